"""What is kept on disk, written whole or not at all."""
