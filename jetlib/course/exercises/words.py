"""What the reader reads: a template with the numbers of one variant put in, in the reader's unit system."""

import re
from dataclasses import dataclass

from jetlib.errors import JetlibError
from jetlib.units import text
from jetlib.units.number_text import figures as figures_of

_NAME = re.compile(r"\{(\w+)\}")
_PICK = re.compile(r"\[([^|\]]*)\|([^\]]*)\]")


def picked(words, system):
    """The words, with "[this|that]" as `this` in US units and `that` in metric ones."""
    return _PICK.sub(lambda found: found[1 if system == "US" else 2], words) if "[" in words else words


@dataclass(frozen=True)
class Show:
    """Called with an SI value and its kind, gives text in one unit system: `show(p["flow"], "flow")` is "8 gpm"."""

    system: str

    def __call__(self, value, kind, figures=3):
        return text(value, kind, self.system, figures)


def worded(words, parameters, shown, system):
    """The text of `words`: a template such as "{count} holes of {bore}", or a function of (parameters, show).

    parameters: a mapping of name to SI value, whole number or text. shown: a mapping of name to kind, for those that
    are quantities. system: "US" or "metric"; "[ft|m]" in a template is one or the other.
    """
    if callable(words):
        return words(parameters, Show(system))
    words = picked(words, system)
    if "{" not in words:
        return words
    used = _NAME.findall(words)
    texts = {name: _shown(parameters[name], shown.get(name), system) for name in used if name in parameters}
    try:
        return words.format_map(texts)
    except (KeyError, IndexError, ValueError) as error:
        known = ", ".join(parameters)
        raise JetlibError(f"{words[:60]!r} asks for {error}, which is not drawn; drawn are: {known}") from None


def _shown(value, kind, system):
    if kind is not None:
        return text(value, kind, system, 3)
    return figures_of(value) if isinstance(value, float) else picked(str(value), system)


def percent(share):
    """A share in words: 0.03 is "3 %"."""
    return f"{figures_of(100.0 * share)} %"


def listed(words, last="and"):
    """Words in a row: "a, b and c"."""
    words = list(words)
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"


def plain(text):
    """A text as it is said: lines that follow one another are one, a blank line begins a paragraph."""
    return "\n\n".join(" ".join(part.split()) for part in re.split(r"\n[ \t]*\n", text.strip()))


def sentence(words):
    """With a capital and a full stop."""
    words = words.strip()
    return words[:1].upper() + words[1:] + ("" if words.endswith((".", "!", "?")) else ".")
