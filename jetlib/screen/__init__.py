"""Pictures and consoles. No physics here."""
