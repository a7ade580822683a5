"""What stands on the bench: the rig as typed, the sheet beside it, what came before; and what is worked out from it.

Nothing here draws. What is slow is worked out when it is first asked for, and again only when what it rests on has
changed: a move of the throttle costs one operating point.
"""

import json
from datetime import date
from functools import partial
from typing import NamedTuple

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.calibration import Calibration, calibrate
from jetlib.rig.parts.machine import Rig
from jetlib.rig.parts.part import remembered
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.operating_point import operating_point
from jetlib.rig.uncertainty.band import uncertainty_band
from jetlib.screen.bench.entries import form as forms
from jetlib.screen.bench.entries.entry import READINGS, SHEET, UNSEEN, fresh_sheet, is_sheet, meaning, meaning_of
from jetlib.units.entry import completed, drill_and_count, is_usable, understood

THROTTLES = np.linspace(0.0, 1.0, 25)
_SAMPLES = 400
_MOST_STEPS = 100
_LONGEST_NAME = 30
#: The reader's own, whatever rig is on the bench.
_TOOLS = ("drills", "nozzles")
#: Changes to these are no step that "Undo" takes back.
_VIEWS = ("system", "tab", "more", "throttle", "set")
MOST_KEPT = 3  # set-ups beside the one on the bench: as many as a table has room for


def fresh():
    """Plain values of a bench with the yard's trailer and nothing typed."""
    form = forms.form_of(demo_rig("yard_trailer"))
    return {"form": form, "opened": form, "sheet": fresh_sheet(), "pending": {}, "healthy": {}, "kept": []}


def is_bench(held):
    """Whether plain values read from a file make a bench."""
    try:
        whole = _whole(held)
        pending, kept, healthy = whole["pending"], whole["kept"], whole["healthy"]
        return (
            set(whole) == {"form", "opened", "sheet", "pending", "healthy", "kept"}
            and set(pending) <= set(SHEET)
            and all(map(forms.is_text, pending.values()))
            and is_sheet(held["sheet"])
            and len(kept) <= MOST_KEPT
            and all(_is_kept(**each) for each in kept)
            and (healthy == {} or _is_healthy(**healthy))
            and forms.is_form(whole["form"])
            and forms.is_form(whole["opened"])
        )
    except (KeyError, TypeError, AttributeError):
        return False


def _is_kept(*, name, form):
    return isinstance(name, str) and forms.is_form(form) and not forms.missing(form)


def _is_healthy(*, readings, when, rig):
    """Whether these are readings kept as healthy: the texts, when, and of which rig."""
    return isinstance(when, str) and isinstance(rig, str) and set(readings) == set(READINGS) and is_sheet(readings)


class Known(NamedTuple):
    """A rig as the bench knows it: the Rig, where it comes from in words, and the Calibration behind it, if any.

    today: it is that of today's readings.
    """

    rig: Rig
    words: str
    fit: Calibration | None = None
    today: bool = False

    @property
    def unknowns(self):
        """How well it is known: Unknowns of what was measured; None for a rig as written."""
        return None if self.fit is None else self.fit.unknowns


class BenchState:
    """A bench of plain values `held`, with the steps back. A change makes new values, and alters none."""

    def __init__(self, held=None):
        self.held = fresh() if held is None else _whole(held)
        self._steps = []

    # --- what stands there ------------------------------------------------------------------------

    @property
    def form(self):
        return self.held["form"]

    @property
    def system(self):
        return self.held["sheet"]["system"]

    def text(self, name):
        """What stands in an entry of the sheet, usable or not."""
        return self.held["pending"].get(name, self.held["sheet"][name])

    def value(self, name):
        """What an entry of the sheet means: the last that could be used."""
        return meaning_of(name, self.held["sheet"][name])

    def why_pending(self, name):
        """The JetlibError of what stands in an entry of the sheet, or None."""
        try:
            understood(self.text(name), SHEET[name].kind, self.system, partial(meaning_of, name))
        except JetlibError as error:
            return error

    # --- changes ----------------------------------------------------------------------------------

    def type_rig(self, place, typed):
        """Something was typed at a place of the rig; "#60 x 4" at a drill is the drill and the number of holes."""
        part, number, name = place
        field, form = forms.field_at(place), self.form
        worth = partial(meaning, field)
        if (part, name) == ("jets", "bore") and not is_usable(typed, worth) and (both := drill_and_count(typed, worth)):
            typed, count = both
            form = forms.typed_at(form, (part, number, "count"), count)
        elif (part, name) == ("hoses", "coiled_length") and typed.strip().lower() in ("all", "all of it"):
            typed = forms.part_at(form, place)["length"]
        self.take_form(forms.typed_at(form, place, completed(typed, field.kind, self.system, worth)))

    def take_form(self, form, **sheet):
        """Another form of the rig, with texts of the sheet that change along with it; one step back."""
        self._put(sheet, form=form)

    def type_sheet(self, name, typed):
        """Something was typed or chosen in an entry of the sheet."""
        worth = partial(meaning_of, name)
        typed = completed(typed, SHEET[name].kind, self.system, worth)
        if is_usable(typed, worth):
            self._put({name: typed}, keep=name not in _VIEWS)
        else:
            self._step(keep=name not in _VIEWS, pending={**self.held["pending"], name: typed})

    def use_units(self, system):
        """Word everything in "US" or "metric"; no step."""
        self.held = {**self.held, "sheet": {**self.held["sheet"], "system": system}}

    def open_rig(self, rig):
        """Another rig on the bench; the sheet stays, but for the readings, which were of the rig before."""
        form = forms.form_of(rig, self.system)
        self._put(dict.fromkeys(READINGS, ""), form=form, opened=form, healthy={})

    def new_rig(self):
        """A rig nobody has seen, and none of what was written about another: tank, drain and readings too."""
        form = forms.empty_form()
        texts = {**fresh_sheet(), **self._texts(*_VIEWS, *_TOOLS), **dict.fromkeys(UNSEEN, "")}
        self._put(texts, form=form, opened=form, healthy={})

    def open_bench(self, held):
        """A saved bench, as it was, in the units of today."""
        system = self.system
        self._step(**_whole(held))
        self.use_units(system)

    def open_readings(self, held):
        """Saved readings on the rig that stands there."""
        self._put({**dict.fromkeys(READINGS, ""), **held})

    def reset(self):
        """The rig as it was opened, with all entries cleared; a sentence for the reader."""
        texts = {**fresh_sheet(), **self._texts("system", "tab", "more", *_TOOLS)}
        self._put(texts, form=self.held["opened"], healthy={})
        return "The rig is as it was opened, and all entries are cleared. Undo brings them back."

    def undo(self):
        """Back by one step, the view stays; a sentence for the reader."""
        if not self._steps:
            return "There is no step to take back."
        held = self._steps.pop()
        self.held = {**held, "sheet": {**held["sheet"], **self._texts(*_VIEWS)}}
        return "One step back."

    def keep_as_healthy(self):
        """Take the present readings as those of the healthy rig; a sentence for the reader. Their entries are free for
        today's. One step back.

        Raises JetlibError where they tell nothing about the rig, or do not agree with each other.
        """
        if not tells(_calibration(self.rig, self.read_texts)):
            raise JetlibError("these readings do not agree, or there are too few: read gauge and flow once more")
        when = self.value("read_on") or date.today().isoformat()
        kept = {"readings": self.readings_texts(), "when": when, "rig": _measured_key(self.form)}
        sheet = {**self.held["sheet"], **{name: SHEET[name].start for name in (*READINGS, "read_on", "use_fit")}}
        self._step(healthy=kept, sheet=sheet)
        return f"The healthy rig is now {self.healthy.words}. Write today's readings when you take them."

    def forget_healthy(self):
        """Go back to the rig as written as what is healthy; a sentence for the reader. One step back."""
        self._step(healthy={})
        return f"The healthy rig is {self.healthy.words}. Undo brings the readings back."

    def readings_texts(self):
        """{entry: text} of all readings as they stand, those that can be used."""
        return self._texts(*READINGS)

    def keep(self, name, rig=None):
        """Keep a Rig, by default the shown one, to compare with; the name it got. One step back.

        Raises JetlibError where there is no room, or for a name that is none.
        """
        kept, form = self.held["kept"], self.form
        if len(kept) >= MOST_KEPT:
            raise JetlibError(f"{MOST_KEPT} setups are kept already: take one out first")
        if rig is not None or self.shown.fit is not None:
            rig = rig or self.shown.rig
            form = forms.form_of(rig)
        name = name.strip() or (rig or self.rig).name or f"setup {len(kept) + 1}"
        if len(name) > _LONGEST_NAME or not name.isprintable():
            raise JetlibError(f"a name is up to {_LONGEST_NAME} characters on one line")
        self._step(kept=[*kept, {"name": name, "form": form}])
        return name

    def drop(self, number):
        """Forget one of the set-ups kept, from 0 on; a sentence for the reader. One step back."""
        self._step(kept=[each for at, each in enumerate(self.held["kept"]) if at != number])
        return "It is taken out. Undo brings it back."

    def put_back(self, number):
        """Put one of the set-ups kept on the bench; a sentence for the reader. One step back."""
        held = self.held["kept"][number]
        self.take_form(held["form"])
        return f"{held['name']} is on the bench. Undo brings back what was there."

    @property
    def kept(self):
        """(name, Rig) of each set-up kept, a list."""
        return [(each["name"], _rig(each["form"])) for each in self.held["kept"]]

    def _texts(self, *names):
        return {name: self.held["sheet"][name] for name in names}

    def _put(self, texts, *, keep=True, **held):
        """{entry: text} on the sheet, each in the place of what could not be used there, and what else is held."""
        pending = {name: typed for name, typed in self.held["pending"].items() if name not in texts}
        self._step(keep=keep, sheet={**self.held["sheet"], **texts}, pending=pending, **held)

    def _step(self, *, keep=True, **changes):
        held = {**self.held, **changes}
        if held == self.held:
            return
        if keep:
            self._steps = [*self._steps[1 - _MOST_STEPS :], self.held]
        self.held = held

    # --- what is worked out -----------------------------------------------------------------------

    @property
    def rig(self):
        """The Rig as typed."""
        return _rig(self.form)

    @property
    def read_texts(self):
        """What stands at each entry of READINGS, a tuple: of it a result can be remembered."""
        return tuple(self.readings_texts().values())

    @property
    def calibration(self):
        """The Calibration of the healthy rig by today's readings; None without a number read. May raise JetlibError."""
        return _calibration(self.healthy.rig, self.read_texts)

    @property
    def healthy(self):
        """The Known rig when nothing is wrong: as written, or as read when all was well, never as read today."""
        kept, found = self.held["healthy"], None
        if kept and kept["rig"] == _measured_key(self.form):
            found = _calibration(self.rig, tuple(kept["readings"][name] for name in READINGS))
        if found is None:
            return Known(self.rig, "as written down, not measured")
        return Known(found.rig, f"measured when all was well ({kept['when']})", found)

    @property
    def shown(self):
        """The Known rig that every page works with: the healthy one, or that of today's readings if they are to be
        shown and tell something."""
        try:
            found = self.calibration if self.value("use_fit") else None
        except JetlibError:
            found = None
        if not tells(found):
            return self.healthy
        return Known(found.rig, f"as it reads today ({date.today().isoformat()})", found, today=True)

    @property
    def rig_for_new_jets(self):
        """The shown rig with jets in their healthy state: what new holes go on."""
        return _with_jets_of(self.shown.rig, self.healthy.rig)

    @property
    def band(self):
        """The Band of the shown rig over THROTTLES: wide for a rig of sizes, narrower for a measured one."""
        shown = self.shown
        return _band(shown.rig, shown.unknowns)

    @property
    def point(self):
        """The OperatingPoint at the present throttle."""
        return self.point_of(self.shown.rig)

    def point_of(self, rig):
        """The OperatingPoint of a Rig at the present throttle, worked out once."""
        return _point(rig, self.value("throttle"))


def _whole(held):
    """A bench with the entries that it was saved without, in the words of today."""
    rigs = {which: forms.as_of_today(held[which]) for which in ("form", "opened")}
    return {"healthy": {}, "kept": [], **held, **rigs, "sheet": {**fresh_sheet(), **held["sheet"]}}


def readings_of(texts):
    """{entry: reading} of what stands at each entry of READINGS, those of nothing left out."""
    found = {name: meaning_of(name, typed) for name, typed in zip(READINGS, texts, strict=True)}
    return {name: reading for name, reading in found.items() if reading is not None}


def tells(found):
    """Whether a Calibration (or None) says anything about the rig that its readings agree on."""
    return found is not None and found.agrees and any(factor.fitted for factor in found.factors.values())


_UNMEASURED = ("pending", "origin", "name", "working_pressure", "mass_per_metre", "bend_radius")


def _measured_key(form):
    """Text of all that readings depend on: of another name, rating or engine a rig reads the same."""
    kept = [form[part] if part in forms.LISTS else [form[part]] for part in ("pump", "valve", *forms.LISTS, "body")]
    bare = [[{key: text for key, text in each.items() if key not in _UNMEASURED} for each in many] for many in kept]
    return json.dumps([*bare, form["site"]["lift"], form["site"]["outlet_shut"]], sort_keys=True)


@remembered(8)
def _calibration(rig, texts):
    """The Calibration of a rig by what was read; None without a number."""
    readings = readings_of(texts).values()
    return calibrate(rig, list(readings)) if any(each.value is not None for each in readings) else None


@remembered(8)
def _with_jets_of(rig, other):
    return rig if rig is other else rig.replace(nozzle=other.nozzle)


@remembered(8)
def _band(rig, unknowns):
    return uncertainty_band(rig, THROTTLES, samples=_SAMPLES, unknowns=unknowns)


_rig = remembered(8)(forms.rig_of)
_point = remembered(8)(operating_point)
