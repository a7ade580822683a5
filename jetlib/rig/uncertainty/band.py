"""How far to trust a prediction on a rig that nobody has measured: its band, and which unknown makes most of it."""

from dataclasses import dataclass, field

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.parts.machine import BurstDisc, Fitting, Rig, Unloader
from jetlib.rig.parts.part import within
from jetlib.rig.point.circuit import compile_one
from jetlib.rig.point.operating_point import OperatingPoint, operating_point, throttle_sweep
from jetlib.rig.uncertainty.unknowns import WORDS, Triangular, Uniform, Unknowns, Usual
from jetlib.units import si, text, unit_label
from jetlib.units.given import Share
from jetlib.units.refusal import cut

#: What has a band, and the kind of quantity it is.
READINGS = {
    "gauge": "pressure",
    "nozzle_flow": "flow",
    "bypass_flow": "flow",
    "nozzle_pressure": "pressure",
    "reaction": "force",
}
_BAND = (0.1, 0.5, 0.9)
_USED = 2.0 / 3.0  # share of the scale
_SCALES = 1e5 * np.array([60, 100, 160, 250, 400, 600, 1000, 1600])  # Pa, EN 837-1, from memory
_DRILLED = (0.60, 0.82)  # what a drilled hole passes of it, from sharp to worn
_KEPT = (0.87, 0.99)  # volumetric efficiency of plunger pumps in use; common practice, no source
_EDGE_LIMITS = (0.5, 0.99)  # no drilled hole passes less or more of the ideal flow
_MOST = 4_000_000  # samples x throttles, to keep within a few hundred MB
_NO_SPREAD = 1e-9  # of the value: below this the samples differ by the solver's rounding only


# --- sampling ---------------------------------------------------------------------------------------


def stratified_column(samples, stream, beside=()):
    """Numbers from 0 to 1 in random order, one in each of `samples` equal strata: one input of a Latin hypercube.

    stream: what seeds it, an integer or several. beside: columns that its order must not go along with by chance.
    Columns of different streams together are a Latin hypercube sample (McKay, Beckman and Conover, Technometrics 21,
    1979, 239); what a random order has in common with the others is taken out, and the rest ranked anew (Owen, J. Am.
    Stat. Assoc. 89, 1994, 1517). Without that, 2,000 samples leave correlations of some 2 % that no input has.
    """
    random = np.random.default_rng(stream)
    order = random.permutation(samples)
    if len(beside):
        others = np.stack(beside) - 0.5
        rest = order - np.linalg.lstsq(others @ others.T, others @ order, rcond=None)[0] @ others
        order = np.argsort(np.argsort(rest, kind="stable"))
    return (order + random.random(samples)) / samples


@dataclass
class _Draws:
    """The numbers drawn so far. An input that has been settled still has its column drawn, and left unused: so two
    bands with one seed differ by what was settled, not by luck."""

    unknowns: Unknowns
    samples: int
    seed: int
    columns: dict = field(default_factory=dict)  # (input, number of the part) -> numbers from 0 to 1
    used: set = field(default_factory=set)

    def column(self, name, number=0):
        key = (name, number)
        if key not in self.columns:
            stream = (self.seed, list(WORDS).index(name), number)
            self.columns[key] = stratified_column(self.samples, stream, list(self.columns.values()))
        return self.columns[key]

    def __call__(self, name, number=0):
        """Values of an input; one number where it is known."""
        return self.from_spread(getattr(self.unknowns, name), name, number)

    def from_spread(self, spread, name, number=0):
        column = self.column(name, number)
        if spread.low == spread.high:
            return spread.low
        self.used.add((name, number))
        return spread.quantile(column)


def _sampled_rig(rig, draw):
    """`rig` with every unknown drawn: fields become arrays over the samples."""
    changes = {
        "pump": _sampled_pump(rig.pump, draw),
        "fittings": (*rig.fittings, *_end_fittings(rig.hoses, draw)),
        "hoses": tuple(_sampled_hose(hose, number, draw) for number, hose in enumerate(rig.hoses)),
        "water_temperature": within(rig.water_temperature + draw("water_temperature"), "temperature"),
        "valve": tuple(_sampled_valve(valve, draw) for valve in rig.valves) or None,
    }
    return rig.replace(**changes).with_jets([_sampled_jet(jet, at, draw) for at, jet in enumerate(rig.nozzle.jets)])


def _sampled_pump(pump, draw):
    turned = (1.0 + draw("pump_flow")) * (1.0 + draw("engine_speed"))
    kept = np.clip(_about(pump.volumetric_efficiency, "slip", _KEPT, draw), 0.2, 1.0)
    return pump.replace(rated_flow=within(pump.rated_flow * turned, "flow"), volumetric_efficiency=kept)


def _about(own, name, usual, draw):
    """`own` and what is drawn of input `name`; where that is as usual, anything in the range `usual`, own included."""
    spread = getattr(draw.unknowns, name)
    if isinstance(spread, Usual):
        spread = Uniform(min(usual[0], own) - own, max(usual[1], own) - own)
    return own + draw.from_spread(spread, name)


def _end_fittings(hoses, draw):
    for number, hose in enumerate(hoses):
        heads = draw("end_fittings", number) if hose.end_bore is None else 0.0
        if np.any(heads):
            yield Fitting(bore=hose.bore, loss_coefficient=heads)


def _sampled_hose(hose, number, draw):
    size, spread = tables.hose_of_bore(hose.bore), draw.unknowns.hose_bore
    if size is not None and isinstance(spread, Usual):
        spread = Uniform(size.bore_min / size.bore - 1.0, size.bore_max / size.bore - 1.0)
    bore = within(hose.bore * (1.0 + draw.from_spread(spread, "hose_bore", number)), "bore")
    changes = {"roughness": hose.roughness * draw("roughness", number), "end_bore": hose.end_bore}
    if hose.coil_diameter is not None:
        # The extra loss goes as sqrt(bore / coil diameter) (Ito 1959), so an error of the rule is one of the diameter.
        wide = (1.0 + draw("coil_diameter", number)) / np.square(1.0 + draw("coil_extra"))
        changes["coil_diameter"] = within(hose.coil_diameter * wide, "coil_diameter")
    return hose.with_bore(bore, **changes)


def _sampled_jet(jet, number, draw):
    edges = draw.unknowns.edges
    if edges:
        row = tables.discharge_coefficient(edges[min(number, len(edges) - 1)])
        spread = Triangular(row.low, row.typical, row.high)
        coefficient = draw.from_spread(spread, "discharge_coefficient")
    else:
        own = jet.discharge_coefficient
        low, high = min(_EDGE_LIMITS[0], own), max(_EDGE_LIMITS[1], own)
        usual = (own - 0.07, own + 0.07)
        if _DRILLED[0] - 0.02 <= own <= _DRILLED[1] + 0.02:
            usual = (_DRILLED[0], max(_DRILLED[1], usual[1]))
        coefficient = np.clip(_about(own, "discharge_coefficient", usual, draw), low, high)
    bore = np.maximum(jet.bore + draw("jet_bore", number), 0.5 * jet.bore) * (1.0 + draw("wear"))
    return jet.replace(bore=within(bore, "jet_bore"), discharge_coefficient=coefficient)


def _sampled_valve(valve, draw):
    if isinstance(valve, Unloader):
        return valve.replace(
            setting=within(valve.setting * (1.0 + draw("valve_setting")), "pressure"),
            rise=within(valve.rise * (1.0 + draw("valve_rise")), "fraction"),
        )
    if isinstance(valve, BurstDisc) and not valve.opened:
        return valve.replace(rating=within(valve.rating * (1.0 + draw("disc_rating")), "pressure"))
    return valve


def usual_full_scale(rig):
    """Full scale (Pa) of the gauge one expects on `rig`: the first usual one whose two thirds hold its pressure.

    That pressure is the most the unloader lets it reach; without one the disc's rating, or what the rig makes at full
    throttle. Scales of EN 837-1; two thirds of it for a pressure that
    fluctuates, as a plunger pump's does (three quarters for a steady one): EN 837-2. From memory.
    """
    if rig.unloader is not None:
        pressure = rig.unloader.setting * (1.0 + rig.unloader.rise)
    elif rig.burst_disc is not None:
        pressure = rig.burst_disc.rating
    else:
        pressure = operating_point(rig).line_pressure
    enough = _SCALES[pressure <= _USED * _SCALES]
    return float(enough[0]) if enough.size else float(pressure / _USED)


# --- the band ---------------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class Band:
    """What each reading of `rig` may be, over `throttles`; every rig drawn fits what is known. SI arrays.

    `nominal` is the OperatingPoint of the rig as it stands. `low`, `middle` and `high` are the values that one in
    ten, half, and nine in ten of the drawn rigs stay below: the band holds eight in ten. They give an array over the
    throttles, or a float at the one nearest to `throttle`. Names: those of READINGS. "gauge" is what the needle shows.
    """

    rig: Rig
    throttles: np.ndarray
    unknowns: Unknowns
    nominal: OperatingPoint
    samples: dict  # reading -> (samples, throttles)
    columns: dict  # (input, number of the part) -> its place in its range, 0 to 1, (samples,)
    _bands: dict = field(default_factory=dict, repr=False)  # what has been worked out once

    def low(self, name, throttle=None):
        """The value that one drawn rig in ten stays below."""
        return self._quantile(name, 0, throttle)

    def middle(self, name, throttle=None):
        """The median of the drawn rigs."""
        return self._quantile(name, 1, throttle)

    def high(self, name, throttle=None):
        """The value that one drawn rig in ten goes beyond."""
        return self._quantile(name, 2, throttle)

    def _quantile(self, name, which, throttle):
        if name not in self._bands:
            self._bands[name] = np.quantile(self._values(name), _BAND, axis=0)
        curve = self._bands[name][which]
        return curve if throttle is None else float(curve[self.nearest(throttle)])

    def shares(self, name, throttle=None):
        """How much of the variance of a reading each input makes: input -> array over throttles, or float at one.

        First-order Sobol indices, V(E(reading | input)) / V(reading), from the band's own draws: the draws are sorted
        by the input into equal bins, and the variance of the bins' means is taken (Plischke, Borgonovo and Smith, Eur.
        J. Oper. Res. 226, 2013, 536), less what chance alone would give (Kelley, Proc. Natl. Acad. Sci. 21, 1935,
        554). Unlike a squared correlation it needs no straight line, and a valve that opens part of the way through
        the draws makes a kink. Hoses and groups of jets are added up. What the shares lack of 1 is made by inputs
        together; by chance they may add up to a per cent or two more. All are 0 where the reading does not vary.
        """
        values = self._values(name)
        if throttle is None:
            return self._shares_of(values)
        at = self.nearest(throttle)
        if (name, at) not in self._bands:
            shares = self._shares_of(values[:, [at]])
            self._bands[name, at] = {cause: float(share[0]) for cause, share in shares.items()}
        return dict(self._bands[name, at])

    def _shares_of(self, values):
        found = {}
        for (cause, _), column in self.columns.items():
            found[cause] = found.get(cause, 0.0) + first_order_share(column, values)
        return found

    def sentence(self, name, system="US", *, throttle=1.0):
        """The band at a throttle in words: "between 9.62 and 11.1 gpm; the jets' edge shape matters most"."""
        ends = self.low(name, throttle), self.high(name, throttle)
        low, high = (text(end, READINGS[name], system) for end in ends)
        shares = self.shares(name, throttle)
        ranked = sorted(shares, key=shares.get, reverse=True)
        if low == high:
            changes = [WORDS[cause] for cause in ranked[:1] if shares[cause] > 0]
            return f"{low}; " + (f"{changes[0]} hardly changes it" if changes else "no unknown here changes it")
        first = f"between {low.removesuffix(unit_label(READINGS[name], system)).strip()} and {high}"
        if len(ranked) > 1 and shares[ranked[1]] > 0.8 * shares[ranked[0]]:
            return f"{first}; {WORDS[ranked[0]]} and {WORDS[ranked[1]]} matter most"
        return f"{first}; {WORDS[ranked[0]]} matters most"

    def nearest(self, throttle):
        """Place in `throttles` of the one nearest to `throttle`; JetlibError if it lies outside them."""
        throttle = si(throttle, "fraction", field="throttle", owner="Band")
        if np.ndim(throttle):
            raise JetlibError("throttle is an array; write one, or leave it out for all of the band's")
        least, most = self.throttles.min(), self.throttles.max()
        if not least - 1e-9 <= throttle <= most + 1e-9:
            raise JetlibError(f"throttle is {throttle:g}; this band covers {least:g} to {most:g}")
        return int(np.argmin(np.abs(self.throttles - throttle)))

    def _values(self, name):
        if name not in READINGS:
            raise JetlibError(f"there is no band of {name!r}; write one of {', '.join(READINGS)}")
        return self.samples[name]


def first_order_share(column, values):
    """Share (0 to 1) of the variance of `values` (samples, …) that goes with `column` (samples,); see Band.shares."""
    count = len(column)
    bins = int(np.clip(np.sqrt(count) / 2.0, 2, 32))
    edges = np.arange(bins) * count // bins
    sizes = np.diff(edges, append=count)
    centred = values - values.mean(axis=0)
    # Unlike powers of ten (Pa, m3/s) must not lose their squares to underflow; a constant reading has no spread.
    scale = np.abs(centred).max(axis=0)
    real = scale > _NO_SPREAD * np.abs(values).max(axis=0)
    centred = centred / np.where(real, scale, 1.0)
    means = np.add.reduceat(centred[np.argsort(column)], edges, axis=0)
    between = np.tensordot(1.0 / sizes, np.square(means), axes=1)
    ratio = between / np.where(real, np.square(centred).sum(axis=0), 1.0)
    by_chance = (count - 1.0) / (count - bins)
    return np.where(real, np.clip(1.0 - (1.0 - ratio) * by_chance, 0.0, 1.0), 0.0)


def uncertainty_band(
    rig: Rig, throttles: Share | None = None, *, unknowns: Unknowns | None = None, samples: int = 2000, seed: int = 0
) -> Band:
    """The Band of `rig` over `throttles` (0 to 1; 50 even steps unless given).

    unknowns: an Unknowns, what is not known and how well; the default suits a rig nobody has measured. `samples` rigs
    are drawn by a Latin hypercube seeded with `seed` and solved in one sweep; with 2,000, the ends of the band move by
    about a hundredth of its width from seed to seed. Raises JetlibError when the rig holds arrays, for an unusable
    number of samples or seed.

    >>> band = uncertainty_band(demo_rig("yard_trailer"), [1.0], samples=200)
    >>> bool(band.low("gauge")[0] < band.high("gauge")[0])
    True
    """
    unknowns = Unknowns() if unknowns is None else unknowns
    if not isinstance(unknowns, Unknowns):
        raise JetlibError(f"unknowns is {cut(unknowns)}; write unknowns=Unknowns(…)")
    throttles = np.linspace(0.0, 1.0, 50) if throttles is None else throttles
    throttles = np.atleast_1d(si(throttles, "fraction", field="throttles", owner="uncertainty_band"))
    compile_one(rig, 1.0, "uncertainty_band takes one rig at a time")
    most = _MOST // max(throttles.size, 1)
    for name, number, low, high in (("samples", samples, 50, most), ("seed", seed, 0, 2**32 - 1)):
        if isinstance(number, bool) or not isinstance(number, int | np.integer) or not low <= number <= high:
            raise JetlibError(f"{name} is {number!r}; write a whole number from {low} to {high}")
    nominal = throttle_sweep(rig, throttles)
    draw = _Draws(unknowns, int(samples), int(seed))
    point = throttle_sweep(_sampled_rig(rig, draw), throttles)
    full_scale = unknowns.gauge_full_scale or usual_full_scale(rig)
    error = np.asarray(draw("gauge"))[..., np.newaxis] * full_scale
    found = {name: getattr(point, name) for name in READINGS}
    found["gauge"] = np.maximum(point.gauge + error, 0.0)
    whole = (draw.samples, throttles.size)
    return Band(
        rig=rig,
        throttles=throttles,
        unknowns=unknowns,
        nominal=nominal,
        samples={name: np.broadcast_to(value, whole) for name, value in found.items()},
        columns={key: column for key, column in draw.columns.items() if key in draw.used},
    )
