"""What stands on the bench: the rig as typed, the sheet beside it, what came before; and what is worked out from it.

Nothing here draws. What is slow is worked out when it is first asked for, and again only when what it rests on has
changed: a move of the throttle costs one operating point.
"""

import json
from copy import deepcopy
from functools import lru_cache, partial

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.calibration import calibrate
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.rig.point.operating_point import operating_point
from jetlib.rig.uncertainty.band import uncertainty_band
from jetlib.screen.bench.entries import form as forms
from jetlib.screen.bench.entries.part_entries import field_at, value_of
from jetlib.screen.bench.entries.sheet import READINGS, SHEET, VIEWS, YES, fresh_sheet, is_sheet, kind_said, meaning_of
from jetlib.units.entry import completed, drill_and_count, is_usable, understood

THROTTLES = np.linspace(0.0, 1.0, 25)
SAMPLES = 400
START = "yard_trailer"
_MOST_STEPS = 100


def fresh(rig=None, system="US"):
    """Plain values of a bench with a rig, by default the yard's trailer, and nothing typed."""
    form = forms.form_of(demo_rig(START) if rig is None else rig, system)
    return {"form": form, "opened": deepcopy(form), "sheet": {**fresh_sheet(), "system": system}, "pending": {}}


def is_bench(held):
    """Whether plain values read from a file make a bench."""
    try:
        pending = held["pending"]
        texts = all(isinstance(each, str) and len(each) <= 20_000 for each in pending.values())
        good = set(held) == {"form", "opened", "sheet", "pending"} and texts and set(pending) <= set(SHEET)
        return good and is_sheet(held["sheet"]) and forms.is_form(held["form"]) and forms.is_form(held["opened"])
    except (KeyError, TypeError, AttributeError):
        return False


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
        self._step({"form": form, "opened": deepcopy(form), "sheet": sheet, "pending": pending})

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
        """The rig as it was opened, and nothing typed beside it."""
        view = {name: self.held["sheet"][name] for name in ("system", "tab", "more")}
        opened = self.held["opened"]
        sheet = {**fresh_sheet(), **view}
        self._step({"form": deepcopy(opened), "opened": opened, "sheet": sheet, "pending": {}})

    def undo(self):
        """Back by one step; whether there was one. The view stays."""
        if not self._steps:
            return False
        view = {name: self.held["sheet"][name] for name in VIEWS}
        held = json.loads(self._steps.pop())
        self.held = {**held, "sheet": {**held["sheet"], **view}}
        return True

    def readings_texts(self):
        """{entry: text} of all readings as they stand, those that can be used."""
        return {name: self.held["sheet"][name] for name in READINGS}

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
        """The Calibration of the rig by the readings; None without a number read. May raise JetlibError."""
        texts = tuple(self.held["sheet"][name] for name in READINGS)
        if all(reading.value is None for reading in self.readings.values()):
            return None
        return _calibration(_key(self.form), texts)

    @property
    def fit(self):
        """The Calibration that the other pages are to use; None where it is not wanted, or tells nothing."""
        if self.value("use_fit") != YES:
            return None
        try:
            found = self.calibration
        except JetlibError:
            return None
        told = found is not None and found.agrees and any(factor.fitted for factor in found.factors.values())
        return found if told else None

    @property
    def shown_rig(self):
        """The Rig that the pages work with: fitted to the readings, or as typed."""
        fit = self.fit
        return self.rig if fit is None else fit.rig

    @property
    def band(self):
        """The Band of the rig over THROTTLES: wide for a rig of sizes, narrower for a fitted one."""
        texts = () if self.fit is None else tuple(self.held["sheet"][name] for name in READINGS)
        return _band(_key(self.form), texts)

    @property
    def point(self):
        """The OperatingPoint at the present throttle."""
        return operating_point(self.shown_rig, self.value("throttle"))

    @property
    def point_as_typed(self):
        """The same of the rig as typed, whatever was read on it."""
        return operating_point(self.rig, self.value("throttle"))


def _whole(held):
    """A bench with the entries that it was saved without."""
    return {**held, "sheet": {**fresh_sheet(), **held["sheet"]}}


class Same:
    """Something to remember a result by, such as a rig: the same while it is the same object."""

    def __init__(self, held):
        self.held = held

    def __eq__(self, other):
        return self.held is other.held

    def __hash__(self):
        return id(self.held)


def _key(form):
    """Text that tells one rig from another; what is pending does not count."""
    return json.dumps(form, sort_keys=True)


@lru_cache(maxsize=8)
def _rig(key):
    return forms.rig_of(json.loads(key))


@lru_cache(maxsize=8)
def _calibration(key, texts):
    found = (meaning_of(name, typed) for name, typed in zip(READINGS, texts, strict=True))
    return calibrate(_rig(key), [reading for reading in found if reading is not None])


@lru_cache(maxsize=8)
def _band(key, texts):
    if not texts:
        return uncertainty_band(_rig(key), THROTTLES, samples=SAMPLES)
    fit = _calibration(key, texts)
    return uncertainty_band(fit.rig, THROTTLES, samples=SAMPLES, unknowns=fit.unknowns)
