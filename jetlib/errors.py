"""The one error a reader ever meets, and the two that a caller may want to tell apart."""


class JetlibError(ValueError):
    """Something the reader typed, or a file they loaded, cannot be used.

    The message says what was wrong, the value that was given, and the line that puts it right.
    """


class MissingUnit(JetlibError):
    """A number typed as text without the unit it needs."""


class WrongKind(JetlibError):
    """A unit of another kind of quantity than the one asked for, such as psi for a flow."""
