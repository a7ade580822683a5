"""The bench's rig: pump, valve, hose sections in order, fittings, jets, engine and water, each with its entries."""

from fractions import Fraction

import ipywidgets as widgets

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.screen.bench.entries import form as forms
from jetlib.screen.bench.entries.entry import exact_text
from jetlib.screen.bench.entries.fields import echo_of, field_of
from jetlib.screen.bench.entries.part_entries import ASSUMED, LISTS, fields_of, unseen_part
from jetlib.screen.controls.fields import ChoiceField
from jetlib.screen.controls.pieces import button
from jetlib.screen.controls.show import named
from jetlib.units import unit_label
from jetlib.units.kinds import KINDS
from jetlib.units.refusal import page_words

_LABEL = "98px"
_WIDE = {"width": "410px", "label_width": _LABEL}
_UNIT_SAID = {"jet_bore": "#57, 1/16"}  # a drill has no unit
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
        self._lists = {part: widgets.VBox() for part in LISTS}
        kinds = [("kind of fitting", ""), *((row.kind, row.kind) for row in tables.fittings())]
        self._fitting = ChoiceField("Add a fitting", kinds, self._add_fitting, **_WIDE)
        newest = {(row.standard, row.dash): row for row in sorted(tables.hoses(), key=lambda row: row.edition)}
        self._kinds = sorted(newest.values(), key=lambda row: (row.nominal_bore, row.standard))
        sizes = [
            (
                f"{Fraction(row.nominal_bore / 0.0254).limit_denominator(64)} in, {row.standard}, {row.construction}",
                str(at),
            )
            for at, row in enumerate(self._kinds)
        ]
        options = [("choose a kind, or write it yourself", ""), ("I write it myself", "own"), *sizes]
        self._hose = ChoiceField("Add a hose", options, self._add_hose, **_WIDE)
        adder = button("Add a group", lambda: self._add("jets", unseen_part("jets")))
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
            shown = [self.part(part, number) for number in (range(len(texts)) if part in LISTS else [None])]
            for each in shown:
                each.show()
            boxes = tuple(each.box for each in shown)
            if part in LISTS and self._lists[part].children != boxes:
                self._lists[part].children = boxes

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
        texts, words = unseen_part("hoses"), ""
        if kind != "own":
            row = self._kinds[int(kind)]
            figures = {
                "bore": (row.bore, "hose_bore"),
                "working_pressure": (row.working_pressure, "pressure"),
                "mass_per_metre": (row.mass_per_metre, "mass_per_length"),
                "bend_radius": (row.bend_radius, "coil_diameter"),
            }
            texts = {name: exact_text(*figure, self.state.system) for name, figure in figures.items()}
            texts = unseen_part("hoses", **texts)
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
        texts = unseen_part("fittings", name=kind, bore=bore, loss_coefficient=factor)
        texts["origin"]["bore"] = ASSUMED
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
        up = _small("▲", f"{before}: {name}", lambda: editor.move(part, number, -1))
        up.disabled = number == 0
        self.down = _small("▼", f"{after}: {name}", lambda: editor.move(part, number, 1))
        away = _small("Remove", f"Remove {name}", lambda: editor.remove(part, number))
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
        kept = [each for each in fields_of(self.part, texts) if more or not each.more or each.name in pending]
        for asked in kept:
            place = (self.part, self.number, asked.name)
            typed, field = forms.shown_at(form, place), self._field(asked, place)
            error = forms.why_pending(form, place, system) if asked.name in pending else None
            note = " ".join(filter(None, (origin.get(asked.name), echo_of(typed, asked.kind, system))))
            field.show(typed, error, note, system)
            if asked.kind in KINDS:
                field.entry.placeholder = _UNIT_SAID.get(asked.kind) or unit_label(asked.kind, system)
        shown = tuple(self.fields[asked.name].box for asked in kept)
        if self.entries.children != shown:
            self.entries.children = shown
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


def _small(words, hint, action):
    made = button(words, action, hint=hint)
    made.layout.margin = "0 0 0 6px"
    return made


def _title(words):
    return widgets.HTML(
        f'<div role="heading" aria-level="5" style="font-weight:600;margin-top:6px">{words}</div>',
        layout={"width": "100%"},
    )
