"""The bench's fields: an entry with a note under it, a list to choose from, a tick box."""

import re
from html import escape

import ipywidgets as widgets

from jetlib.errors import JetlibError
from jetlib.screen.bench.entries.sheet import NO, SHEET, YES, Entry
from jetlib.units import si, unit_label
from jetlib.units import text as words_of

LABEL = {"description_width": "86px"}
_SHEET_LABEL = {"description_width": "116px"}
WIDTH = "200px"
_INK = "var(--jp-error-color1, #b3001e)"


class TextField:
    """An entry and a note under it: what is wrong with what was typed, or what it is in the other units.

    typed: called with what was typed, when Enter is pressed or the entry is left.
    """

    def __init__(self, label, typed, *, example="", width=WIDTH):
        self.entry = widgets.Text(
            description=label,
            placeholder=example,
            continuous_update=False,
            style=LABEL,
            layout={"width": "100%", "margin": "1px 0"},
        )
        self.note = widgets.HTML(layout={"margin": "0", "display": "none"})
        size = {"width": width, "max_width": "100%", "overflow": "hidden"}
        self.box = widgets.VBox([self.entry, self.note], layout=size)
        self._typed, self._quiet = typed, False
        self.entry.observe(self._changed, names="value")

    def show(self, typed, error=None, echo=""):
        """Set what stands there, without calling back."""
        self._quiet = True
        try:
            if self.entry.value != typed:
                self.entry.value = typed
        finally:
            self._quiet = False
        note = marked(error) if error is not None else echo and _echo(echo)
        if self.note.value != note:
            self.note.value = note
            self.note.layout.display = None if note else "none"

    def _changed(self, change):
        if not self._quiet:
            self._typed(change["new"])


class ChoiceField:
    """A list to choose from: options (words, value)."""

    def __init__(self, label, options, chosen, *, width=WIDTH):
        layout = {"width": width, "max_width": "100%", "margin": "1px 0"}
        self.entry = widgets.Dropdown(options=list(options), description=label, style=LABEL, layout=layout)
        self.box, self._quiet = self.entry, False
        self.entry.observe(lambda change: None if self._quiet else chosen(change["new"]), names="value")

    def show(self, value, error=None, echo=""):
        """Set what is chosen, without calling back."""
        self._quiet = True
        try:
            self.entry.value = value
        finally:
            self._quiet = False

    def relist(self, options):
        """Set what can be chosen, with the first of it chosen, without calling back."""
        if list(self.entry.options) == list(options):
            return
        self._quiet = True
        try:
            self.entry.options = options
        finally:
            self._quiet = False


class TickField:
    """A tick box for yes and no."""

    def __init__(self, label, ticked):
        self.entry = widgets.Checkbox(description=label, indent=False, layout={"width": "auto", "margin": "1px 2px"})
        self.box, self._quiet = self.entry, False
        self.entry.observe(lambda change: None if self._quiet else ticked(YES if change["new"] else NO), names="value")

    def show(self, value, error=None, echo=""):
        """Set whether it is ticked, without calling back."""
        self._quiet = True
        try:
            self.entry.value = value == YES
        finally:
            self._quiet = False


def sheet_field(name, changed):
    """The field of an entry of SHEET; changed: called with its name and what was typed or chosen."""
    spec = SHEET[name]
    if isinstance(spec, Entry):
        wide = {"drills": "520px"}.get(name, "248px")
        made = TextField(spec.label, lambda typed: changed(name, typed), example=spec.example, width=wide)
        made.entry.style = _SHEET_LABEL
        return made
    if spec.tick:
        return TickField(spec.label, lambda value: changed(name, value))
    wide = {"known": "420px", "debris": "290px"}.get(name, "248px")
    made = ChoiceField(spec.label, spec.options, lambda value: changed(name, value), width=wide)
    made.entry.style = _SHEET_LABEL
    return made


def sheet_shown(field, name, state):
    """Show what stands in an entry of the sheet of a BenchState."""
    spec, typed = SHEET[name], state.text(name)
    echo = echo_of(typed, spec.kind, state.system) if isinstance(spec, Entry) and spec.kind else ""
    field.show(typed, state.why_pending(name), echo)


def echo_of(typed, kind, system):
    """What was typed in the units of `system`, "" where it is typed in those."""
    typed = typed.strip()
    if not typed or not isinstance(kind, str) or kind in ("count", "name"):
        return ""
    label = unit_label(kind, system)
    plain = label.replace("°", "")
    if not label or re.search(rf"(?:{re.escape(label)}|(?:deg)?{re.escape(plain)})$", typed):
        return ""
    try:
        value = si(typed, kind)
        shown = words_of(value, kind, system)
    except JetlibError:
        return ""
    return f"= {shown}"


def _echo(words):
    return f'<div style="opacity:0.75;line-height:1.3;text-align:right;padding-right:6px">{escape(words)}</div>'


def marked(error):
    """A refusal as HTML beside its field."""
    words = plain_words(error)
    return f'<div role="alert" style="color:{_INK};line-height:1.3"><b>Not used:</b> {escape(words)}</div>'


def plain_words(error):
    """The words of a JetlibError for somebody who writes no code: "write 180 ft", not `length="180 ft"`."""
    words = re.sub(r"\b[A-Z]\w+\(([^()]*?)(?:, …)?\)", r"\1", str(error))
    words = re.sub(r"\b(write|or|,) (?:[\w °,]+?)=\"([^\"]*)\"", r"\1 \2", words)
    words = re.sub(r"\b(write|or) (?:[\w ]+?)=([\w.]+)", r"\1 \2", words)
    return words[:300]
