"""What readings say about a sound rig: jets, hose, pump and valve fitted to them, with standard errors."""

from dataclasses import dataclass

import numpy as np

from jetlib.errors import JetlibError
from jetlib.physics import water
from jetlib.physics.hose import pressure_loss
from jetlib.rig.change.factors import CALIBRATED, USED, Knowledge, RigFactors, changed, require_one_rig
from jetlib.rig.diagnosis.least_squares import Problem, robust_fit
from jetlib.rig.diagnosis.next_check import further_checks
from jetlib.rig.diagnosis.readings import BucketTest, Reading, check_readings, credible
from jetlib.rig.parts.machine import Rig
from jetlib.rig.point.operating_point import operating_point
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.rig.uncertainty.unknowns import Known, Normal, Unknowns
from jetlib.units import both
from jetlib.units.refusal import cut

WORDS = {
    "jet_area": "the jets' effective area",
    "hose_loss": "the loss in the hose",
    "pump_flow": "the pump's flow",
    "valve_setting": "the valve's setting",
}
_EDGE = (0.5, 0.99)  # no drilled hole passes less or more of the ideal flow


@dataclass(frozen=True)
class Factor:
    """One thing fitted: the rig has `value` times what is written down, and `error` is the standard error as a share.

    fitted: False when it was held, because the readings cannot tell; why says so, and remedy what would. It is held at
    1, but for a valve that must open higher than that not to have opened.
    """

    name: str
    value: float
    error: float
    fitted: bool
    why: str = ""
    remedy: str = ""

    def interval(self):
        """(low, high): nine chances in ten that the factor lies between them."""
        return tuple(self.value * np.exp(way * 1.645 * self.error) for way in (-1.0, 1.0))

    @property
    def sentence(self):
        words = WORDS[self.name]
        words = words[0].upper() + words[1:]
        if not self.fitted:
            shut = f"; it opens no lower than {self.value:.2f} times what is written down"
            return f"{words} cannot be told: {self.why}{shut if self.value > 1.0001 else ''}. {self.remedy}".strip()
        change, low, high = (100.0 * (each - 1.0) for each in (self.value, *self.interval()))
        return f"{words} is {change:+.1f} % off what is written down (90 %: {low:+.1f} to {high:+.1f} %)."


@dataclass(frozen=True, eq=False)
class Calibration:
    """A rig fitted to its readings.

    rig: the fitted Rig. factors: {name: Factor}. needle_off: Pa, by how much the gauge itself seems to read high.
    predicted: SI, what the fitted rig would read on it, None for what is no number; residuals: read less predicted,
    over the error of the reading. wild: place of the one reading that does not fit the others and was left out, or
    None. agrees: whether those kept agree; where they do not, suspects are the places of those of which any alone could
    be the wrong one, and all errors have been made larger to suit. spare: readings beyond the number fitted.
    covariance: of the logarithms of the factors, what was held among them.

    >>> found = calibrate(demo_rig("yard_trailer"), [GaugeReading("2700 psi"), BucketTest("5 gal", "32 s")])
    >>> sorted(found.factors)
    ['hose_loss', 'jet_area', 'pump_flow', 'valve_setting']
    """

    rig: Rig
    readings: tuple
    factors: dict
    predicted: tuple
    residuals: tuple
    wild: int
    agrees: bool
    suspects: tuple
    spare: int
    covariance: np.ndarray
    gauge: float
    needle_off: float
    doubts: tuple = ()

    @property
    def spread(self) -> Knowledge:
        """How well the fitted rig is known: a Knowledge, to diagnose with."""
        deviations = np.sqrt(np.diag(self.covariance))
        related = self.covariance / np.outer(deviations, deviations)
        named = dict(zip(CALIBRATED, np.minimum(deviations, 0.5).tolist(), strict=True))
        return Knowledge(**named, gauge=self.gauge, correlation=tuple(map(tuple, related.tolist())))

    @property
    def unknowns(self) -> Unknowns:
        """How well the fitted rig is known: Unknowns, for its band. What the errors have in common is not in it."""
        found = dict(zip(CALIBRATED, np.sqrt(np.diag(self.covariance)).tolist(), strict=True))
        coefficient = self.rig.nozzle.effective_area / self.rig.nozzle.area
        return Unknowns(
            discharge_coefficient=_normal(found["jet_area"] * coefficient, 0.4),
            jet_bore=0,
            hose_bore=_normal(found["hose_loss"] / 5.0, 0.4),  # friction goes nearly as the fifth power of the bore
            roughness=Known(1.0),
            coil_diameter=0,
            coil_extra=0,
            pump_flow=_normal(found["pump_flow"], 0.8),
            valve_setting=_normal(found["valve_setting"], 0.8),
            gauge=self.gauge * np.sqrt(3.0),
            **dict.fromkeys(("slip", "engine_speed", "wear", "end_fittings"), 0),
        )

    @property
    def sentences(self) -> tuple:
        """What was found, in plain words, a tuple of sentences."""
        found = []
        if not any(factor.fitted for factor in self.factors.values()):
            found.append("These readings say nothing new about the rig; it stays as written down.")
        if self.wild is not None:
            reading = self.readings[self.wild]
            found.append(
                f"The {reading.label}, {reading.shown}, does not fit the others, which say "
                f"{both(max(self.predicted[self.wild], 0.0), reading.kind)}; it was left out. Read it again."
            )
        if not self.agrees:
            listed = " or ".join(f"the {self.readings[place].label}" for place in self.suspects)
            which = f"any one of these may be the wrong one: {listed}" if listed else "no single one can be blamed"
            found.append(
                f"These readings do not agree with each other; {which}. So the errors given are larger. Read them "
                "again. If they stay the same, something may be wrong with the rig: diagnose it."
            )
        found.extend(factor.sentence for factor in self.factors.values())
        if abs(self.needle_off) > 1e5:
            way = "high" if self.needle_off > 0 else "low"
            found.append(f"The gauge itself seems to read {both(abs(self.needle_off), 'pressure', 2)} {way}.")
        found.extend(self.doubts)
        if self.spare == 0 and any(factor.fitted for factor in self.factors.values()):
            found.append("There is no extra reading, so a wrong one would not show. Take one more.")
        return tuple(found)


def calibrate(
    rig: Rig, readings: list | tuple | Reading, *, before: Knowledge = USED, gauge: float = USED.gauge
) -> Calibration:
    """The Calibration of one `rig` by `readings`, a list of the readings of `jetlib.rig.diagnosis.readings`.

    before: a Knowledge, how well the rig was known. gauge: standard error of the gauge itself, as a share of its full
    scale; 0 when it has been checked. Numbers are fitted; a stream seen or not is held against the fit. The rig is
    taken to be sound: for what is broken see `diagnose`. Raises JetlibError for anything that is no reading, and for
    a rig of arrays or without open jets.

    >>> calibrate(demo_rig("yard_trailer"), [GaugeReading("2700 psi")]).spare
    0
    """
    require_one_rig(rig, "calibrate(Rig(…), [GaugeReading(…), …])")
    readings = credible(check_readings(readings), rig)
    if not isinstance(before, Knowledge):
        raise JetlibError(f"before is {cut(before)}; write before=Knowledge(jet_area=0.06)")
    gauge = Knowledge(gauge=gauge).gauge
    places = [place for place, reading in enumerate(readings) if reading.value is not None]
    every = Problem(rig, [readings[place] for place in places], before, gauge * usual_full_scale(rig))
    fit, agrees, suspects = robust_fit(every)
    suspects = tuple(places[each] for each in suspects)
    done, by_eye = {reading.check for reading in every.readings}, [each for each in readings if each.by_eye]
    checks = [each for each in further_checks(rig) if each.kind and not each.swapped and each.check not in done]
    # What the fitted rig would show, all worked out at once: what was read, what could be, what was seen or heard.
    asked = [*every.readings, *checks, *by_eye]
    (values,), (slopes,) = every.values_and_slopes(fit.logs[np.newaxis], asked)
    count, slopes = len(places), slopes.T
    further = list(zip(checks, values[count:], slopes[count:], strict=False))
    predicted, residuals = [None] * len(readings), [None] * len(readings)
    for place, value in zip(places, values, strict=False):
        value += fit.needle_off if readings[place].needle else 0.0
        predicted[place] = float(value)
        residuals[place] = float((readings[place].value - value) / readings[place].error)
    factors = {name: _factor(number, every, fit, slopes[:count], further) for number, name in enumerate(CALIBRATED)}
    return Calibration(
        rig=fitted_rig(rig, **{name: factor.value for name, factor in factors.items()}),
        readings=readings,
        factors=factors,
        predicted=tuple(predicted),
        residuals=tuple(residuals),
        wild=suspects[0] if agrees and suspects else None,
        suspects=() if agrees else suspects,
        agrees=agrees,
        spare=fit.spare,
        covariance=fit.covariance,
        gauge=gauge,
        needle_off=fit.needle_off,
        doubts=tuple(
            f"The {reading.label} shows {reading.shown}, which the fitted rig would not."
            for reading, widths in zip(by_eye, values[count + len(checks) :], strict=True)
            if (widths > 2.0) != reading.yes and abs(widths) > 2.0
        ),
    )


def fitted_rig(rig, *, jet_area=1.0, hose_loss=1.0, pump_flow=1.0, valve_setting=1.0):
    """`rig` with these factors in it, as parts somebody could own: nothing is longer or shorter than it was.

    The jets' edge takes as much of a change of area as an edge can, their bore the rest; each hose gets the bore that
    loses just so much more at the flow of full throttle.
    """
    made = changed(rig, RigFactors(pump_flow=pump_flow, valve_setting=valve_setting))
    jets = []
    for jet in rig.nozzle.jets:
        own = jet.discharge_coefficient
        edge = np.clip(own * jet_area, min(own, _EDGE[0]), max(own, _EDGE[1]))
        bore = float(jet.bore * np.sqrt(own * jet_area / edge))
        jets.append(jet.replace(discharge_coefficient=float(edge), bore=bore))
    made = made.with_jets(jets)
    if hose_loss != 1.0:
        flow = max(operating_point(made).nozzle_flow, 1e-7)
        made = made.replace(hoses=tuple(_hose_that_loses(hose, hose_loss, flow, rig) for hose in rig.hoses))
    return made


def _hose_that_loses(hose, factor, flow, rig):
    density, viscosity = water.density(rig.water_temperature), water.viscosity(rig.water_temperature)

    def loss(bore):
        wall = min(hose.roughness, 0.05 * bore)
        return pressure_loss(flow, bore=bore, length=1.0, roughness=wall, density=density, viscosity=viscosity)

    bore, wanted = hose.bore, factor * loss(hose.bore)
    for _ in range(6):
        bore *= (loss(bore) / wanted) ** 0.2
    return hose.with_bore(float(bore), end_bore=hose.end_bore)


# --- words ------------------------------------------------------------------------------------------


def _factor(number, problem, fit, slopes, further):
    """The Factor; slopes (readings, 4) of what was read, further: (check, value, slopes) of each that could be."""
    name = CALIBRATED[number]
    error, value = float(np.sqrt(fit.covariance[number, number])), float(np.exp(fit.logs[number]))
    if fit.active[number]:
        return Factor(name, value, error, True)
    rig = problem.rig
    lacks = {"hose_loss": not rig.hoses and "hose", "valve_setting": rig.unloader is None and "unloader"}.get(name)
    if lacks:
        return Factor(name, value, error, False, f"the rig has no {lacks}")
    why = _why_not(number, problem, fit, slopes)
    return Factor(name, value, error, False, why, _remedy(number, problem, fit, further))


def _why_not(number, problem, fit, slopes):
    """Why the readings do not tell a factor, in words."""
    if not problem.readings:
        return "no number was read that depends on it"
    slopes = slopes / problem.errors[:, np.newaxis] * problem.widths
    mine, others = slopes[:, number], slopes[:, fit.active]
    if np.abs(mine).max() < 1e-3:
        shut = CALIBRATED[number] == "valve_setting"
        return "the valve stayed shut in every reading" if shut else "no number was read that depends on it"
    if others.size and mine @ mine > 1.0:
        parts = np.linalg.lstsq(others, mine, rcond=None)[0]
        names = [CALIBRATED[at] for at in np.flatnonzero(fit.active)]
        sizes = np.linalg.norm(others, axis=0) * np.abs(parts)
        alike = [WORDS[each] for each, size in zip(names, sizes, strict=True) if size > 0.3 * max(sizes)]
        return f"it would change these readings just as {' and '.join(alike)} would"
    return "these readings hardly depend on it"


def _remedy(number, problem, fit, further):
    """Which one further reading would tell a factor, a sentence."""
    known = problem.widths[number] ** 2
    left = []
    for check, value, slope in further:
        error = float(check.usual_error(max(value, 0.0), problem.rig.pump.rated_flow)) ** 2
        error += problem.needle**2 if check.needle else 0.0
        gain = fit.covariance[number] @ slope
        left.append(fit.covariance[number, number] - gain**2 / (error + slope @ fit.covariance @ slope))
    if not left or min(left) > 0.5 * known:
        if CALIBRATED[number] == "valve_setting":
            return "It needs a reading with the valve open."
        return "No single further reading would tell it."
    best = further[int(np.argmin(left))][0]
    held = " at the tank" if isinstance(best, BucketTest) and best.place == "tank return" else ""
    return f"A {best.label} would tell it{held}."


def _normal(deviation, most):
    deviation = min(max(deviation, 1e-9), most / 4.0)
    return Normal(0.0, deviation, -4.0 * deviation, 4.0 * deviation)
