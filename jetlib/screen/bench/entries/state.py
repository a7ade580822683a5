"""What stands on the bench: the rig as typed, the sheet beside it, what came before; and what is worked out from it.

Nothing here draws. What is slow is worked out when it is first asked for, and again only when what it rests on has
changed: a move of the throttle costs one operating point.
"""

import json
from copy import deepcopy
from datetime import date
from functools import lru_cache, partial

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.calibration import calibrate
from jetlib.rig.parts.part import Same
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.operating_point import operating_point
from jetlib.rig.uncertainty.band import uncertainty_band
from jetlib.screen.bench.entries import form as forms
from jetlib.screen.bench.entries.part_entries import LISTS, field_at, value_of
from jetlib.screen.bench.entries.sheet import (
    READINGS,
    SHEET,
    TOOLS,
    UNSEEN,
    VIEWS,
    YES,
    fresh_sheet,
    is_sheet,
    kind_said,
    meaning_of,
)
from jetlib.units.entry import completed, drill_and_count, is_usable, understood

THROTTLES = np.linspace(0.0, 1.0, 25)
SAMPLES = 400
START = "yard_trailer"
_MOST_STEPS = 100
_LONGEST_NAME = 30
MOST_KEPT = 3  # set-ups beside the one on the bench: as many as a table has room for


def fresh(rig=None, system="US"):
    """Plain values of a bench with a rig, by default the yard's trailer, and nothing typed."""
    form = forms.form_of(demo_rig(START) if rig is None else rig, system)
    sheet = {**fresh_sheet(), "system": system}
    return {"form": form, "opened": deepcopy(form), "sheet": sheet, "pending": {}, "healthy": {}, "kept": []}


def is_bench(held):
    """Whether plain values read from a file make a bench."""
    try:
        pending = held["pending"]
        texts = all(isinstance(each, str) and len(each) <= 20_000 for each in pending.values())
        good = (
            set(held) - {"healthy", "kept"} == {"form", "opened", "sheet", "pending"}
            and texts
            and set(pending) <= set(SHEET)
        )
        kept = held.get("kept", [])
        good = good and len(kept) <= MOST_KEPT and all(set(each) == {"name", "form"} for each in kept)
        good = good and all(isinstance(each["name"], str) and not forms.missing(each["form"]) for each in kept)
        good = good and all(forms.is_form(each["form"]) for each in kept)
        good = good and _is_healthy(held.get("healthy", {})) and is_sheet(held["sheet"])
        return good and all(forms.is_form(forms.as_of_today(held[which])) for which in ("form", "opened"))
    except (KeyError, TypeError, AttributeError):
        return False


def _is_healthy(held):
    """Whether plain values are readings kept as healthy: none, or the texts, when, and of which rig."""
    if held == {}:
        return True
    words = isinstance(held["when"], str) and isinstance(held["rig"], str)
    return words and set(held["readings"]) == set(READINGS) and is_sheet({**fresh_sheet(), **held["readings"]})


class BenchState:
    """A bench of plain values `held`, with the steps back."""

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
            understood(self.text(name), kind_said(name), self.system, partial(meaning_of, name))
        except JetlibError as error:
            return error

    # --- changes ----------------------------------------------------------------------------------

    def type_rig(self, place, typed):
        """Something was typed at a place of the rig; "#60 x 4" at a drill is the drill and the number of holes."""
        part, number, name = place
        field, form = field_at(place), self.form
        usable = is_usable(partial(value_of, field))
        both = drill_and_count(typed, usable) if (part, name) == ("jets", "bore") and not usable(typed) else None
        if both:
            typed, count = both
            form, _ = forms.typed_at(form, (part, number, "count"), count)
        elif (part, name) == ("hoses", "coiled_length") and typed.strip().lower() in ("all", "all of it"):
            typed = forms.part_at(form, place)["length"]
        form, _ = forms.typed_at(form, place, completed(typed, field.kind, self.system, usable))
        self.take_form(form)

    def take_form(self, form, **sheet):
        """Another form of the rig, with texts of the sheet that change along with it; one step back."""
        pending = {name: typed for name, typed in self.held["pending"].items() if name not in sheet}
        self._step({**self.held, "form": form, "sheet": {**self.held["sheet"], **sheet}, "pending": pending})

    def type_sheet(self, name, typed):
        """Something was typed or chosen in an entry of the sheet."""
        typed = completed(typed, kind_said(name), self.system, is_usable(partial(meaning_of, name)))
        pending = {key: value for key, value in self.held["pending"].items() if key != name}
        sheet = self.held["sheet"]
        try:
            meaning_of(name, typed)
            sheet = {**sheet, name: typed}
        except JetlibError:
            pending[name] = typed
        self._step({**self.held, "sheet": sheet, "pending": pending}, keep=name not in VIEWS)

    def use_units(self, system):
        """Word everything in "US" or "metric"; no step."""
        self.held = {**self.held, "sheet": {**self.held["sheet"], "system": system}}

    def open_rig(self, rig):
        """Another rig on the bench; the sheet stays, but for the readings, which were of the rig before."""
        form = forms.form_of(rig, self.system)
        sheet = {**self.held["sheet"], **dict.fromkeys(READINGS, "")}
        pending = {key: value for key, value in self.held["pending"].items() if key not in READINGS}
        self._step(self._with({"form": form, "opened": deepcopy(form), "sheet": sheet, "pending": pending}))

    def new_rig(self):
        """A rig nobody has seen, and none of what was written about another: tank, drain and readings too."""
        form, view = forms.empty_form(), {name: self.held["sheet"][name] for name in (*VIEWS, *TOOLS)}
        sheet = {**fresh_sheet(), **view, **dict.fromkeys(UNSEEN, "")}
        self._step(self._with({"form": form, "opened": deepcopy(form), "sheet": sheet, "pending": {}}))

    def open_bench(self, held):
        """A saved bench, as it was, in the units of today."""
        system = self.system
        self._step(_whole(deepcopy(held)))
        self.use_units(system)

    def open_readings(self, held):
        """Saved readings on the rig that stands there."""
        pending = {key: value for key, value in self.held["pending"].items() if key not in READINGS}
        sheet = {**self.held["sheet"], **dict.fromkeys(READINGS, ""), **held}
        self._step({**self.held, "sheet": sheet, "pending": pending})

    def reset(self):
        """The rig as it was opened, with all entries cleared."""
        view = {name: self.held["sheet"][name] for name in ("system", "tab", "more", *TOOLS)}
        opened = self.held["opened"]
        sheet = {**fresh_sheet(), **view}
        self._step(self._with({"form": deepcopy(opened), "opened": opened, "sheet": sheet, "pending": {}}))

    def _with(self, held):
        """Another bench beside the set-ups that are kept."""
        return {**held, "healthy": {}, "kept": self.held["kept"]}

    def undo(self):
        """Back by one step; whether there was one. The view stays."""
        if not self._steps:
            return False
        view = {name: self.held["sheet"][name] for name in VIEWS}
        held = json.loads(self._steps.pop())
        self.held = {**held, "sheet": {**held["sheet"], **view}}
        return True

    def keep_as_healthy(self):
        """Declare the present readings taken when all was well; their entries are free for today's. One step back.

        Raises JetlibError where they tell nothing about the rig, or do not agree with each other.
        """
        if not _tells(self._fitted_to(self.readings_texts(), self.rig)):
            raise JetlibError("these readings do not agree, or there are too few: read gauge and flow once more")
        when = self.value("read_on") or date.today().isoformat()
        kept = {"readings": self.readings_texts(), "when": when, "rig": _measured_key(self.form)}
        sheet = {**self.held["sheet"], **{name: SHEET[name].start for name in (*READINGS, "read_on", "use_fit")}}
        self._step({**self.held, "healthy": kept, "sheet": sheet})

    def forget_healthy(self):
        """Go back to the rig as written as what is healthy; one step back."""
        self._step({**self.held, "healthy": {}})

    def readings_texts(self):
        """{entry: text} of all readings as they stand, those that can be used."""
        return {name: self.held["sheet"][name] for name in READINGS}

    def keep(self, name, rig=None):
        """Keep a Rig, by default the shown one, to compare with; one step back. JetlibError where there is no room."""
        kept, own = self.held["kept"], rig is None
        if len(kept) >= MOST_KEPT:
            raise JetlibError(f"{MOST_KEPT} setups are kept already: take one out first")
        rig = self.shown_rig if own else rig
        form = deepcopy(self.form) if own and self.fit is None and self.healthy is None else forms.form_of(rig)
        name = name.strip() or rig.name or f"setup {len(kept) + 1}"
        if len(name) > _LONGEST_NAME or not name.isprintable():
            raise JetlibError(f"a name is up to {_LONGEST_NAME} characters on one line")
        self._step({**self.held, "kept": [*kept, {"name": name, "form": form}]})

    def drop(self, number):
        """Forget one of the set-ups kept, from 0 on; one step back."""
        kept = [each for at, each in enumerate(self.held["kept"]) if at != number]
        self._step({**self.held, "kept": kept})

    @property
    def kept(self):
        """(name, Rig) of each set-up kept, a list."""
        return [(each["name"], _rig(_key(each["form"]))) for each in self.held["kept"]]

    def _step(self, held, keep=True):
        if held == self.held:
            return
        if keep:
            self._steps = [*self._steps[1 - _MOST_STEPS :], json.dumps(self.held)]
        self.held = held

    # --- what is worked out -----------------------------------------------------------------------

    @property
    def rig(self):
        """The Rig as typed."""
        return _rig(_key(self.form))

    @property
    def readings(self):
        """{entry: reading} of those that were taken and can be used."""
        found = {name: self.value(name) for name in READINGS}
        return {name: reading for name, reading in found.items() if reading is not None}

    @property
    def calibration(self):
        """The Calibration of the healthy rig by today's readings; None without a number read. May raise JetlibError."""
        return self._fitted_to(self.readings_texts(), self.healthy_rig)

    @property
    def healthy(self):
        """The Calibration by readings taken when all was well; None where there are none of this rig as it now is."""
        kept = self.held["healthy"]
        return self._fitted_to(kept["readings"], self.rig) if kept and kept["rig"] == _measured_key(self.form) else None

    @property
    def healthy_rig(self):
        """The Rig when nothing is wrong: as written, or as read when all was well, never as read today."""
        return self.rig if self.healthy is None else self.healthy.rig

    @property
    def healthy_words(self):
        """Where the healthy rig comes from, in words."""
        if self.healthy is not None:
            return f"measured when all was well ({self.held['healthy']['when']})"
        return "as written down, not measured"

    @property
    def fit(self):
        """The Calibration by today's readings, where the pages are to show today; None where it tells nothing."""
        try:
            found = self.calibration if self.value("use_fit") == YES else None
        except JetlibError:
            return None
        return found if _tells(found) else None

    @property
    def shown_rig(self):
        """The Rig that every page works with: the healthy one, or that of today's readings."""
        fit = self.fit
        return self.healthy_rig if fit is None else fit.rig

    @property
    def shown_words(self):
        """Where the shown rig comes from, in words."""
        return self.healthy_words if self.fit is None else f"as it reads today ({date.today().isoformat()})"

    @property
    def rig_for_new_jets(self):
        """The shown rig with jets in their healthy state: what new holes go on."""
        return _with_jets_of(Same(self.shown_rig), Same(self.healthy_rig))

    @property
    def unknowns(self):
        """How well the shown rig is known: Unknowns of what was measured; None for a rig as written."""
        found = self.fit or self.healthy
        return None if found is None else found.unknowns

    @property
    def band(self):
        """The Band of the shown rig over THROTTLES: wide for a rig of sizes, narrower for a measured one."""
        found = self.fit or self.healthy
        return _band(Same(self.shown_rig), None if found is None else Same(found))

    def _fitted_to(self, texts, rig):
        texts = tuple(texts[name] for name in READINGS)
        readings = [meaning_of(name, typed) for name, typed in zip(READINGS, texts, strict=True)]
        if all(reading is None or reading.value is None for reading in readings):
            return None
        return _calibration(Same(rig), texts)

    @property
    def point(self):
        """The OperatingPoint at the present throttle."""
        return self.point_of(self.shown_rig)

    @property
    def healthy_point(self):
        """The same of the healthy rig, whatever it reads today."""
        return self.point_of(self.healthy_rig)

    def point_of(self, rig):
        """The OperatingPoint of a Rig at the present throttle, worked out once."""
        return _point(Same(rig), self.value("throttle"))


def _whole(held):
    """A bench with the entries that it was saved without, in the words of today."""
    rigs = {which: forms.as_of_today(held[which]) for which in ("form", "opened")}
    return {"healthy": {}, "kept": [], **held, **rigs, "sheet": {**fresh_sheet(), **held["sheet"]}}


def _tells(found):
    """Whether a Calibration (or None) says anything about the rig that its readings agree on."""
    return found is not None and found.agrees and any(factor.fitted for factor in found.factors.values())


_UNMEASURED = ("pending", "origin", "name", "working_pressure", "mass_per_metre", "bend_radius")


def _measured_key(form):
    """Text of all that readings depend on: of another name, rating or engine a rig reads the same."""
    kept = [form[part] if part in LISTS else [form[part]] for part in ("pump", "valve", *LISTS, "body")]
    bare = [[{key: text for key, text in each.items() if key not in _UNMEASURED} for each in many] for many in kept]
    return json.dumps([*bare, form["site"]["lift"], form["site"]["outlet_shut"]], sort_keys=True)


def _key(form):
    """Text that tells one rig from another; what is pending does not count."""
    return json.dumps(form, sort_keys=True)


@lru_cache(maxsize=8)
def _rig(key):
    return forms.rig_of(json.loads(key))


@lru_cache(maxsize=8)
def _calibration(rig, texts):
    found = (meaning_of(name, typed) for name, typed in zip(READINGS, texts, strict=True))
    return calibrate(rig.held, [reading for reading in found if reading is not None])


@lru_cache(maxsize=8)
def _point(rig, throttle):
    return operating_point(rig.held, throttle)


@lru_cache(maxsize=8)
def _with_jets_of(rig, other):
    return rig.held if rig == other else rig.held.replace(nozzle=other.held.nozzle)


@lru_cache(maxsize=8)
def _band(rig, found):
    given = {} if found is None else {"unknowns": found.held.unknowns}
    return uncertainty_band(rig.held, THROTTLES, samples=SAMPLES, **given)
