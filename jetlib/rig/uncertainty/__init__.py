"""What is not known of an unmeasured rig, and the band that leaves."""
