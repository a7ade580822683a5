"""What the reader reads: a template with the numbers of one variant put in, in the reader's unit system.

Numbers are said as people say them: a hose of 150 ft is one of 45 m in a metric question, not of 45.7 m, and everything
is worked out anew from that.
"""

import re

from jetlib.errors import JetlibError
from jetlib.tables import DATA
from jetlib.tables.toml_file import read_toml
from jetlib.units import from_si, text, to_si
from jetlib.units.number_text import figures as figures_of

_NAME = re.compile(r"\{(\w+)\}")
_PICK = re.compile(r"\[([^|\]]*)\|([^\]]*)\]")
_ROUND = read_toml(DATA / "round_numbers.toml", what="list of round numbers", like="pressure = [[0, 0.5]]")
_SIZES = ("length", "altitude", "pipe_bore", "volume", "temperature", "velocity")


def picked(words, system):
    """The words, with "[this|that]" as `this` in US units and `that` in metric ones."""
    return _PICK.sub(lambda found: found[1 if system == "US" else 2], words) if "[" in words else words


def worded(words, parameters, shown, system):
    """The text of `words`: a template such as "{count} holes of {bore}", or a function of (parameters, system).

    parameters: a mapping of name to SI value, whole number or text. shown: a mapping of name to kind, for those that
    are quantities. system: "US" or "metric"; "[ft|m]" in a template is one or the other.
    """
    if callable(words):
        return words(parameters, system)
    words = picked(words, system)
    if "{" not in words:
        return words
    used = _NAME.findall(words)
    texts = {name: _shown(parameters[name], shown.get(name), system) for name in used if name in parameters}
    try:
        return words.format_map(texts)
    except (KeyError, IndexError, ValueError) as error:
        drawn = ", ".join(parameters)
        raise JetlibError(f"{words[:60]!r} asks for {error}, which is not drawn; drawn are: {drawn}") from None


def _shown(value, kind, system):
    if kind is not None:
        return text(value, kind, system, 3)
    return figures_of(value) if isinstance(value, float) else picked(str(value), system)


def percent(share):
    """A share in words: 0.03 is "3 %"."""
    return f"{figures_of(100.0 * share)} %"


def listed(words):
    """Words in a row: "a, b and c"."""
    words = list(words)
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def plain(text):
    """A text as it is said: lines that follow one another are one, a blank line begins a paragraph."""
    return "\n\n".join(" ".join(part.split()) for part in re.split(r"\n[ \t]*\n", text.strip()))


def sentence(words):
    """With a capital and a full stop."""
    words = words.strip()
    return words[:1].upper() + words[1:] + ("" if words.endswith((".", "!", "?")) else ".")


def chosen(value, kind, system, by="chosen"):
    """An SI value that somebody chose as one would choose it in `system`; SI. by: "found" for what is read or worked
    out, to the step one would read it to."""
    steps = _ROUND[by].get(system, {}).get(kind, ())
    number = from_si(value, kind, system) if steps else 0.0
    for floor, step in steps:
        if abs(number) >= floor:
            return to_si(round(number / step) * step, kind, system) if round(number / step) else value
    return value


def native(drawn, given, kinds, system):
    """The parameters of a variant in `system`: what was drawn as it is chosen there, and what `given` finds from it."""

    def native_to(parameters, by):
        return {name: chosen(each, kinds.get(name), system, by) for name, each in parameters.items()}

    new = native_to(drawn, "chosen")
    return new | native_to(given(new), "found")


def as_said(parameters, kinds, system):
    """Parameters of a question that stays the same in both systems, its sizes as one would say them; SI."""
    said = {name: chosen(parameters[name], kinds[name], system) for name in kinds if kinds[name] in _SIZES}
    return {**parameters, **said}
