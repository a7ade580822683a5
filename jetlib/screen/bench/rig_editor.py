"""The bench's rig: pump, valve, hose sections in order, fittings, jets, engine and water, each with its entries."""

from fractions import Fraction
from functools import lru_cache

import ipywidgets as widgets

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.screen.bench.entries import form as forms
from jetlib.screen.bench.entries.entry import exact_text
from jetlib.screen.bench.entries.fields import echo_of, field_of
from jetlib.screen.bench.entries.part_entries import ASSUMED, LISTS, PARTS, fields_of, unseen_part
from jetlib.screen.controls.fields import ChoiceField
from jetlib.screen.controls.pieces import button
from jetlib.screen.controls.show import named
from jetlib.units import unit_label
from jetlib.units.kinds import KINDS
from jetlib.units.refusal import page_words

_LABEL = "98px"
_WIDE = {"width": "410px", "label_width": _LABEL}
_UNIT_SAID = {"jet_bore": "#57, 1/16"}  # a drill has no unit
_TITLES = {"hoses": "Hose, from the pump to the nozzle", "jets": "Jets", "fittings": "Fittings in the line"}
_ONE = {"hoses": "section", "jets": "group", "fittings": "fitting"}
_WAYS = {
    "hoses": ("Move to the pump", "Move to the nozzle"),
    "jets": ("Move up", "Move down"),
    "fittings": ("Move up", "Move down"),
}


class RigEditor:
    """The entries of the rig of a BenchState. changed: called after each change, with words for the reader or ""."""

    def __init__(self, state, changed):
        self.state, self.changed = state, changed
        self._rows = {part: [] for part in LISTS}
        self._lists = {part: widgets.VBox() for part in LISTS}
        self._single = {part: _Part(part, None, self._typed, self.go_on) for part in PARTS if part not in LISTS}
        kinds = [("kind of fitting", ""), *((row.kind, row.kind) for row in tables.fittings())]
        self._fitting = ChoiceField("Add a fitting", kinds, self._add_fitting, **_WIDE)
        sizes = [(hose_words(row), str(number)) for number, row in enumerate(_hose_kinds())]
        options = [("choose a kind, or write it yourself", ""), ("I write it myself", "own"), *sizes]
        self._hose = ChoiceField("Add a hose", options, self._add_hose, **_WIDE)
        adder = button("Add a group", lambda: self._add("jets", unseen_part("jets")))
        adder.layout.align_self = "flex-start"
        one = self._single
        self.box = widgets.VBox(
            [
                _title("Pump and valve"), one["pump"].box, one["valve"].box,
                _title(_TITLES["hoses"]), self._lists["hoses"], self._hose.box,
                _title(_TITLES["jets"]), self._lists["jets"], one["body"].box, adder,
                _title("Engine"), one["engine"].box,
                _title("Name, height and water"), one["site"].box,
                _title(_TITLES["fittings"]), self._lists["fittings"], self._fitting.box,
            ],
        )  # fmt: skip

    def show(self):
        """Show the rig as it stands; rows are made when first needed and then kept."""
        state = self.state
        more = state.value("more")
        for part in self._single.values():
            part.show(state.form, more, state.system)
        for part, rows in self._rows.items():
            count = len(state.form[part])
            while len(rows) < count:
                rows.append(_Row(part, len(rows), self))
            for number, row in enumerate(rows[:count]):
                row.show(state.form, more, state.system, last=number == count - 1)
            shown = tuple(row.box for row in rows[:count])
            if self._lists[part].children != shown:
                self._lists[part].children = shown

    def go_on(self, place=None):
        """Put the cursor where something must still be written: after `place`, or first of all."""
        left, order = forms.missing(self.state.form), [*forms.places(self.state.form)]
        after = [each for each in left if place in order and order.index(each) > order.index(place)]
        for part, number, name in [*after, *(each for each in left if each != place)][:1]:
            (self._single[part] if number is None else self._rows[part][number].part).fields[name].entry.focus()

    def move(self, part, number, by):
        """Move one of a list."""
        if number < len(self.state.form[part]):
            self._take(forms.moved(self.state.form, part, number, by))

    def remove(self, part, number):
        """Take one of a list out."""
        if number < len(self.state.form[part]):
            self._take(forms.without_part(self.state.form, part, number))

    def _add_hose(self, kind):
        """Add a section of a kind of the table, or an empty one; the empty one of a new rig gives way to it."""
        self._hose.show("")
        if not kind:
            return
        texts = unseen_part("hoses")
        if kind != "own":
            row, words = _hose_kinds()[int(kind)], lambda value, name: exact_text(value, name, self.state.system)
            texts = unseen_part(
                "hoses",
                bore=words(row.bore, "hose_bore"),
                working_pressure=words(row.working_pressure, "pressure"),
                mass_per_metre=words(row.mass_per_metre, "mass_per_length"),
                bend_radius=words(row.bend_radius, "coil_diameter"),
            )
        form = self.state.form
        if form["hoses"] and not form["hoses"][-1]["bore"] + form["hoses"][-1]["length"]:
            form = forms.without_part(form, "hoses", len(form["hoses"]) - 1)
        self._add("hoses", texts, form)
        if kind != "own":
            memory = ", the rating of this size from memory" if row.pressure_confidence == "from memory" else ""
            self.changed(
                f"Figures of the table are of the standard{memory}: what is printed on your hose comes before them."
            )

    def _add(self, part, texts, form=None):
        try:
            self._take(forms.with_part(form or self.state.form, part, texts))
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

    def _typed(self, place, typed):
        part, number, _ = place
        if number is not None and number >= len(self.state.form[part]):
            return
        self.state.type_rig(place, typed)
        self.changed("")

    def _take(self, form):
        self.state.take_form(form)
        self.changed("")


@lru_cache(maxsize=1)
def _hose_kinds():
    """The HoseSizes of the table, the newest edition of each, narrow first."""
    newest = {(row.standard, row.dash): row for row in sorted(tables.hoses(), key=lambda row: row.edition)}
    return sorted(newest.values(), key=lambda row: (row.nominal_bore, row.standard))


def hose_words(row):
    """A kind of hose in a few words."""
    return f"{Fraction(row.nominal_bore / 0.0254).limit_denominator(64)} in, {row.standard}, {row.construction}"


class _Part:
    """The entries of one part."""

    def __init__(self, part, number, typed, entered):
        self.part, self.number, self.typed, self.entered = part, number, typed, entered
        self.fields = {}
        self.box = named(widgets.VBox(), "jl-fields")

    def _field(self, field):
        """The entry of a Field, made when it is first shown."""
        if field.name not in self.fields:
            place = (self.part, self.number, field.name)
            made = field_of(field, lambda typed: self.typed(place, typed), label_width=_LABEL)
            if not field.options:
                made.entry.on_msg(lambda _, said, __: said.get("event") == "submit" and self.entered(place))
            self.fields[field.name] = made
        return self.fields[field.name]

    def show(self, form, more, system):
        texts = form[self.part] if self.number is None else form[self.part][self.number]
        kept = [field for field in fields_of(self.part, texts) if more or not field.more or _asks(texts, field.name)]
        for field in kept:
            place = (self.part, self.number, field.name)
            typed = forms.shown_at(form, place)
            error = forms.why_pending(form, place, system) if field.name in texts.get("pending", {}) else None
            origin = texts.get("origin", {}).get(field.name, "")
            note = " ".join(each for each in (origin, echo_of(typed, field.kind, system)) if each)
            self._field(field).show(typed, error, note, system)
            if field.kind in KINDS:
                self._field(field).entry.placeholder = _UNIT_SAID.get(field.kind) or unit_label(field.kind, system)
        shown = tuple(self.fields[field.name].box for field in kept)
        if self.box.children != shown:
            self.box.children = shown


def _asks(texts, name):
    """Whether an entry that is seldom needed must be shown all the same: what was typed there is not used."""
    return name in texts.get("pending", {})


class _Row:
    """One hose, fitting or group of jets, with buttons to move and remove it."""

    def __init__(self, part, number, editor):
        self.part = _Part(part, number, editor._typed, editor.go_on)
        before, after = _WAYS[part]
        name = f"{_ONE[part]} {number + 1}"
        self.up = _small("▲", f"{before}: {name}", lambda: editor.move(part, number, -1))
        self.down = _small("▼", f"{after}: {name}", lambda: editor.move(part, number, 1))
        self.up.disabled = number == 0
        away = _small("Remove", f"Remove {name}", lambda: editor.remove(part, number))
        head = widgets.HBox(
            [widgets.HTML(f"<b>{name.capitalize()}</b>"), self.up, self.down, away],
            layout={"align_items": "center", "width": "100%"},
        )
        self.box = widgets.VBox(
            [head, self.part.box],
            layout={"border_left": "3px solid var(--jp-border-color1, #bdbdbd)", "padding": "0 0 4px 6px",
                    "margin": "2px 0"},
        )  # fmt: skip

    def show(self, form, more, system, *, last):
        self.part.show(form, more, system)
        if self.down.disabled != last:
            self.down.disabled = last


def _small(words, hint, action):
    made = button(words, action, hint=hint)
    made.layout.margin = "0 0 0 6px"
    return made


def _title(words):
    return widgets.HTML(
        f'<div role="heading" aria-level="5" style="font-weight:600;margin-top:6px">{words}</div>',
        layout={"width": "100%"},
    )
