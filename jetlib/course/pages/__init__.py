"""The pages of the course and its glossary."""
