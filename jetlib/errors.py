"""The one error a reader ever meets, and the two that a caller may want to tell apart."""


class JetlibError(ValueError):
    """Something the reader typed, or a file they loaded, cannot be used.

    The message says what was wrong, the value that was given, and the line of Python that puts it right. words: what
    a page says in its place, a function of the unit system; `jetlib.units.refusal.page_words` finds some for an error
    that has none of its own.

    >>> Hose("12.7", "100 ft")
    Traceback (most recent call last):
        ...
    jetlib.errors.MissingUnit: bore is "12.7"...
    """

    def __init__(self, message: str = "", *, words: object | None = None) -> None:
        super().__init__(message)
        self.words = words

    def __reduce__(self):
        return type(self), (str(self),)


class MissingUnit(JetlibError):
    """A number typed as text without the unit it needs."""


class WrongKind(JetlibError):
    """A unit of another kind of quantity than the one asked for, such as psi for a flow."""
