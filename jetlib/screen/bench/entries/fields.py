"""The bench's fields: an entry with a note under it, a list to choose from, a tick box."""

import re
from html import escape

import ipywidgets as widgets

from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.checks import CHECKS
from jetlib.screen.bench.entries.sheet import READINGS, SHEET
from jetlib.screen.controls.fields import ChoiceField, Quiet, TextField
from jetlib.screen.controls.show import named
from jetlib.units import si, unit_label
from jetlib.units import text as words_of
from jetlib.units.kinds import KINDS

#: Checks that come before the others: the gauge, then the flow at the nozzle by the fall of the tank level.
_FIRST = (("gauge",), ("gauge", "nozzle bucket"))
_TYPED_SO = (
    "A needle that swings: its two ends, such as 2100-2300. A timed flow test: 5 gal in 32 s, or a flow. It counts for "
    "full throttle, or write at which: 5 gal in 40 s at 80 %."
)


class TickField(Quiet):
    """A tick box for yes and no."""

    def __init__(self, label, ticked):
        self.entry = widgets.Checkbox(description=label, indent=False, layout={"width": "auto", "margin": "1px 2px"})
        self.box = self.entry
        self.heard(self.entry, lambda value: ticked("yes" if value else "no"))

    def show(self, typed, *_):
        """Set whether it is ticked, without calling back."""
        with self.quietly():
            self.entry.value = typed == "yes"


def field_of(asked, taken, **look):
    """The field of an Entry; taken(text): called with what is typed or chosen."""
    if asked.tick:
        return TickField(asked.label, taken)
    if asked.options:
        made = ChoiceField(asked.label, asked.options, taken, **look)
    else:
        made = TextField(asked.label, taken, **look)
    if asked.across:
        named(made.box, "jl-across")
    return made


def sheet_field(name, changed):
    """The field of an entry of the sheet; changed: called with its name and what was typed or chosen."""
    label_width = "96px" if name in READINGS else "124px"
    return field_of(SHEET[name], lambda typed: changed(name, typed), width="260px", label_width=label_width)


def sheet_shown(field, name, state):
    """Show what stands in an entry of the sheet of a BenchState."""
    asked, typed = SHEET[name], state.text(name)
    if not asked.options:
        field.entry.placeholder = asked.placeholder(state.system)
    field.show(typed, state.why_pending(name), echo_of(typed, asked.kind, state.system), state.system)


def in_columns(fields):
    """[widget] of some fields in as many columns as there is room for, a list."""
    return [named(widgets.VBox([each.box for each in fields.values()]), "jl-fields")]


def by_check(fields):
    """The same, each under the check that it is of, with its minutes and its caution; the flow by tank level early."""
    boxes, rest = [widgets.HTML(f'<div style="opacity:0.85">{_TYPED_SO}</div>')], dict(fields)
    for check in sorted(CHECKS.values(), key=lambda each: [each.key not in early for early in _FIRST]):
        told = f"{escape(check.label)}, {check.cost} <span>⚠ caution</span>"
        folded = f"<summary>{told}</summary>{escape(check.caution)}"
        shown = " open" if check.key == _FIRST[1][-1] else ""
        boxes.append(widgets.HTML(f'<details class="jl-check"{shown}>{folded}</details>'))
        boxes += in_columns({each.key: rest.pop(each.key) for each in check.fields})
    return boxes + in_columns(rest)


def echo_of(typed, kind, system):
    """What was typed in the units of `system`, "" where it is typed in those."""
    typed = typed.strip()
    if not typed or kind not in KINDS:
        return ""
    label = unit_label(kind, system)
    plain = label.replace("°", "")
    if not label or re.search(rf"(?:{re.escape(label)}|(?:deg)?{re.escape(plain)})$", typed):
        return ""
    try:
        return f"= {words_of(si(typed, kind), kind, system)}"
    except JetlibError:
        return ""
