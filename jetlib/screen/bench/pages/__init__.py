"""The pages of the bench, one file each."""
