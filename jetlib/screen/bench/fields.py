"""The bench's fields: those of the sheet, and those of the rig: pump, valve, hose sections in order, fittings, jets,
engine and water."""

import re
from html import escape

import ipywidgets as widgets

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.checks import CHECKS
from jetlib.screen.bench.entries import form as forms
from jetlib.screen.bench.entries.entry import READINGS, SHEET, exact_text, inches
from jetlib.screen.controls.fields import ChoiceField, Quiet, TextField
from jetlib.screen.controls.pieces import button, named
from jetlib.units import si, unit_label
from jetlib.units import text as words_of
from jetlib.units.kinds import KINDS
from jetlib.units.refusal import page_words

#: Checks that come before the others: the gauge, then the flow at the nozzle by the fall of the tank level.
_FIRST = ("gauge", "nozzle bucket")
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
    for check in sorted(CHECKS.values(), key=lambda each: [each.key != early for early in _FIRST]):
        told = f"{escape(check.label)}, {check.cost} <span>⚠ caution</span>"
        folded = f"<summary>{told}</summary>{escape(check.caution)}"
        shown = " open" if check.key == _FIRST[1] else ""
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


# --- the rig ----------------------------------------------------------------------------------------

_LABEL = "98px"
_WIDE = {"width": "410px", "label_width": _LABEL}
_UNIT_SAID = {"jet_bore": "#57, 1/16"}  # a drill has no unit
_OF_TABLE = ("bore", "working_pressure", "mass_per_metre", "bend_radius")  # what the table says of a hose
#: What one of a list is called, and which way it can be moved.
_ONE = {
    "hoses": ("section", "Move to the pump", "Move to the nozzle"),
    "jets": ("group", "Move up", "Move down"),
    "fittings": ("fitting", "Move up", "Move down"),
}


class RigEditor:
    """The entries of the rig of a BenchState. changed: called after each change, with words for the reader or ""."""

    def __init__(self, state, changed):
        self.state, self.changed, self._parts = state, changed, {}
        self._lists = {part: widgets.VBox() for part in forms.LISTS}
        kinds = [("kind of fitting", ""), *((row.kind, row.kind) for row in tables.fittings())]
        self._fitting = ChoiceField("Add a fitting", kinds, self._add_fitting, **_WIDE)
        newest = {(row.standard, row.dash): row for row in sorted(tables.hoses(), key=lambda row: row.edition)}
        self._kinds = sorted(newest.values(), key=lambda row: (row.nominal_bore, row.standard))
        sizes = [
            (f"{inches(row.nominal_bore)}, {row.standard}, {row.construction}", str(at))
            for at, row in enumerate(self._kinds)
        ]
        options = [("choose a kind, or write it yourself", ""), ("I write it myself", "own"), *sizes]
        self._hose = ChoiceField("Add a hose", options, self._add_hose, **_WIDE)
        adder = button("Add a group", lambda: self._add("jets", forms.unseen_part("jets")))
        adder.layout.align_self = "flex-start"
        self.box = widgets.VBox(
            [
                _title("Pump and valve"), self.part("pump").box, self.part("valve").box,
                _title("Hose, from the pump to the nozzle"), self._lists["hoses"], self._hose.box,
                _title("Jets"), self._lists["jets"], self.part("body").box, adder,
                _title("Engine"), self.part("engine").box,
                _title("Name, height and water"), self.part("site").box,
                _title("Fittings in the line"), self._lists["fittings"], self._fitting.box,
            ],
        )  # fmt: skip

    def part(self, part, number=None):
        """The entries of a part, of one of a list by its number; made when first needed and then kept."""
        if (part, number) not in self._parts:
            self._parts[part, number] = _Part(self, part, number)
        return self._parts[part, number]

    def show(self):
        """Show the rig as it stands."""
        for part, texts in self.state.form.items():
            shown = [self.part(part, number) for number in (range(len(texts)) if part in forms.LISTS else [None])]
            for each in shown:
                each.show()
            if part in forms.LISTS:
                self._lists[part].children = tuple(each.box for each in shown)

    def go_on(self, place=None):
        """Put the cursor where something must still be written: after `place`, or first of all."""
        left, order = forms.missing(self.state.form), [*forms.places(self.state.form)]
        after = [each for each in left if place in order and order.index(each) > order.index(place)]
        for part, number, name in [*after, *(each for each in left if each != place)][:1]:
            self.part(part, number).fields[name].entry.focus()

    def move(self, part, number, by):
        """Move one of a list."""
        self._take(forms.moved(self.state.form, part, number, by))

    def remove(self, part, number):
        """Take one of a list out."""
        self._take(forms.without_part(self.state.form, part, number))

    def typed(self, place, typed):
        """Something was typed at a place of the rig, which may be gone by now."""
        part, number, _ = place
        if number is None or number < len(self.state.form[part]):
            self.state.type_rig(place, typed)
            self.changed("")

    def _add_hose(self, kind):
        """Add a section of a kind of the table, or an empty one; the empty one of a new rig gives way to it."""
        self._hose.show("")
        if not kind:
            return
        texts, words = forms.unseen_part("hoses"), ""
        if kind != "own":
            row = self._kinds[int(kind)]
            texts = forms.unseen_part("hoses", **forms.texts_of("hoses", row, self.state.system, _OF_TABLE))
            memory = ", the rating of this size from memory" if row.pressure_confidence == "from memory" else ""
            words = f"Figures of the table are of the standard{memory}: what is printed on your hose comes before them."
        form = self.state.form
        if form["hoses"] and not form["hoses"][-1]["bore"] + form["hoses"][-1]["length"]:
            form = forms.without_part(form, "hoses", len(form["hoses"]) - 1)
        self._add("hoses", texts, form, words)

    def _add(self, part, texts, form=None, words=""):
        try:
            self._take(forms.with_part(form or self.state.form, part, texts), words)
        except JetlibError as error:
            self.changed(page_words(error, self.state.system))

    def _add_fitting(self, kind):
        self._fitting.show("")
        if not kind:
            return
        row = next(row for row in tables.fittings() if row.kind == kind)
        hoses = self.state.form["hoses"]
        bore = hoses[0]["bore"] if hoses else "1/2 in"
        factor = exact_text(row.typical, "loss_coefficient", self.state.system)
        texts = forms.unseen_part("fittings", name=kind, bore=bore, loss_coefficient=factor)
        texts["origin"]["bore"] = forms.ASSUMED
        self._add("fittings", texts)

    def _take(self, form, words=""):
        self.state.take_form(form)
        self.changed(words)


class _Part:
    """The entries of one part; of one hose, fitting or group of jets with buttons to move and remove it."""

    def __init__(self, editor, part, number):
        self.editor, self.part, self.number, self.fields = editor, part, number, {}
        self.entries = self.box = named(widgets.VBox(), "jl-fields")
        if number is None:
            return
        one, before, after = _ONE[part]
        name = f"{one} {number + 1}"
        up = button("▲", lambda: editor.move(part, number, -1), hint=f"{before}: {name}")
        up.disabled = number == 0
        self.down = button("▼", lambda: editor.move(part, number, 1), hint=f"{after}: {name}")
        away = button("Remove", lambda: editor.remove(part, number), hint=f"Remove {name}")
        for each in (up, self.down, away):
            each.layout.margin = "0 0 0 6px"
        head = widgets.HBox(
            [widgets.HTML(f"<b>{name.capitalize()}</b>"), up, self.down, away],
            layout={"align_items": "center", "width": "100%"},
        )
        self.box = widgets.VBox(
            [head, self.entries],
            layout={"border_left": "3px solid var(--jp-border-color1, #bdbdbd)", "padding": "0 0 4px 6px",
                    "margin": "2px 0"},
        )  # fmt: skip

    def show(self):
        """Show what stands there, and the entries that this kind of part has."""
        form, system, more = self.editor.state.form, self.editor.state.system, self.editor.state.value("more")
        texts = forms.part_at(form, (self.part, self.number, ""))
        pending, origin = texts.get("pending", {}), texts.get("origin", {})  # what is not used is shown all the same
        kept = [each for each in forms.fields_of(self.part, texts) if more or not each.more or each.name in pending]
        for asked in kept:
            place = (self.part, self.number, asked.name)
            typed, field = forms.shown_at(form, place), self._field(asked, place)
            error = forms.why_pending(form, place, system) if asked.name in pending else None
            note = " ".join(filter(None, (origin.get(asked.name), echo_of(typed, asked.kind, system))))
            field.show(typed, error, note, system)
            if asked.kind in KINDS:
                field.entry.placeholder = _UNIT_SAID.get(asked.kind) or unit_label(asked.kind, system)
        self.entries.children = tuple(self.fields[asked.name].box for asked in kept)
        if self.number is not None:
            self.down.disabled = self.number == len(form[self.part]) - 1

    def _field(self, asked, place):
        """The field of an Entry, made when it is first shown."""
        if asked.name not in self.fields:
            made = field_of(asked, lambda typed: self.editor.typed(place, typed), label_width=_LABEL)
            if not asked.options:
                made.entry.on_msg(lambda _, said, __: said.get("event") == "submit" and self.editor.go_on(place))
            self.fields[asked.name] = made
        return self.fields[asked.name]


def _title(words):
    return widgets.HTML(
        f'<div role="heading" aria-level="5" style="font-weight:600;margin-top:6px">{words}</div>',
        layout={"width": "100%"},
    )
