"""What consoles and forms are made of."""
