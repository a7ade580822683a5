"""The one error a reader ever meets."""


class JetlibError(ValueError):
    """Something the reader typed, or a file they loaded, cannot be used.

    The message says what was wrong, the value that was given, and the line that puts it right.
    """
