"""A printed page: its style, its pictures, its way to PDF."""
