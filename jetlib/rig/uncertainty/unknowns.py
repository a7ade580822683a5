"""What is not known about a rig nobody has measured: the range of each input, and how likely each value in it is.

Where only the limits are known, every value between them is taken as equally likely: the rule of the *Guide to the
expression of uncertainty in measurement* (JCGM 100:2008, 4.3.7). So "± 3 %" here means the value lies within 3 %,
anywhere in it; it is not a standard deviation.
"""

from dataclasses import dataclass, field, fields, replace
from statistics import NormalDist
from typing import Self

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.units import si
from jetlib.units.refusal import cut

# --- distributions ----------------------------------------------------------------------------------


class Distribution:
    """`quantile(u)`: the value (array like u) below which the share `u` (0 to 1) of the chances lies; `low`, `high`."""

    def __post_init__(self):
        self._ordered(*vars(self).values())

    def _ordered(self, *values):
        if not all(np.isfinite(values)) or list(values) != sorted(values):
            raise JetlibError(f"{self} is not in order; write finite numbers, the smallest first")


@dataclass(frozen=True)
class Known(Distribution):
    """No spread at all: the value has been measured."""

    value: float = 0.0

    low = property(lambda self: self.value)
    high = property(lambda self: self.value)

    def quantile(self, u):
        return np.full(np.shape(u), float(self.value))


@dataclass(frozen=True)
class Uniform(Distribution):
    """Anything from low to high, all equally likely: only the limits are known (JCGM 100:2008, 4.3.7)."""

    low: float
    high: float

    def quantile(self, u):
        return self.low + (self.high - self.low) * np.asarray(u)


@dataclass(frozen=True)
class Usual(Uniform):
    """The usual range of an input nobody has measured: what a part itself says decides where it lies; see Unknowns."""


@dataclass(frozen=True)
class LogUniform(Distribution):
    """From low to high, each equal factor equally likely: not even the size is known well. low above 0."""

    low: float
    high: float

    def __post_init__(self):
        super().__post_init__()
        if not self.low > 0:
            raise JetlibError(f"low is {self.low}; write LogUniform with a low above 0")

    def quantile(self, u):
        return self.low * (self.high / self.low) ** np.asarray(u)


@dataclass(frozen=True)
class Triangular(Distribution):
    """From low to high, most likely at peak and falling straight to either end (JCGM 100:2008, 4.3.9)."""

    low: float
    peak: float
    high: float

    def quantile(self, u):
        u, width = np.asarray(u), self.high - self.low
        left, right = self.peak - self.low, self.high - self.peak
        rising = self.low + np.sqrt(u * width * left)
        return np.where(u * width <= left, rising, self.high - np.sqrt((1.0 - u) * width * right))


@dataclass(frozen=True)
class Normal(Distribution):
    """Bell-shaped about mean, cut off below low and above high: repeated measurement gave mean and deviation."""

    mean: float
    deviation: float
    low: float
    high: float

    def __post_init__(self):
        self._ordered(self.low, self.mean, self.high)
        self._ordered(1e-300, self.deviation)

    def quantile(self, u):
        bell = NormalDist(self.mean, self.deviation)
        least, most = bell.cdf(self.low), bell.cdf(self.high)
        shares = np.ravel(least + (most - least) * np.asarray(u, dtype=float))
        found = np.array([bell.inv_cdf(min(max(share, 1e-16), 1.0 - 1e-16)) for share in shares])
        return np.clip(found, self.low, self.high).reshape(np.shape(u))


# --- the inputs -------------------------------------------------------------------------------------


def _input(default, kind, words, least=-np.inf, most=np.inf):
    """A field that takes a Distribution, or a half-width of `kind` for a Uniform either way of the rig's own value."""
    return field(default=default, metadata={"kind": kind, "words": words, "least": least, "most": most})


def _share(half_width, words):
    return _input(Uniform(-half_width, half_width), "fraction", words, -0.9, 2.0)


@dataclass(frozen=True)
class Unknowns:
    """How far each input may be from what the rig says. A number or text is a half-width: `hose_bore="2 %"`.

    0 says that the input has been measured. A Distribution may be given instead, and is what each then holds. The
    defaults suit a rig nobody has measured. Shares are of the rig's own value:

    discharge_coefficient (added, then held within 0.5 to 0.99; unless given, 0.60 to 0.82 or to 0.07 above its own, for
    a hole whose edge nobody has named may be anything between sharp and worn; an insert keeps within 0.07), jet_bore
    (m, added), hose_bore (share; of a hose named by its size the table's limits unless given), roughness (the
    hose's own times this; by default the range of `wall` in the table, over its typical value), coil_diameter (share),
    coil_extra (share by which the extra loss on the reel may miss the rule), water_temperature (K, added, held within
    0 to 60 degC), valve_setting (share), valve_rise (share), disc_rating (share), pump_flow (share), gauge (share of
    full scale; the needle only, never the water; the default is class 1.6 of EN 837-1; grade B of ASME B40.100 allows
    2 % in the middle of the scale and 3 % at its ends, both from memory), slip (share added to the
    pump's volumetric efficiency, 0.87 to 0.99 unless given), engine_speed (share), wear (share by which all holes
    have grown; a number is the most), end_fittings (velocity heads in each hose's bore, lost in fittings at its ends; a
    number is the most; nothing where the hose gives its end_bore).

    edge: kind of jet in the table of discharge coefficients, or one kind for each group of jets: its low to high,
    likeliest at its typical value, then replaces the jets' own coefficient and its spread.
    gauge_full_scale: Pa; None takes the usual scale whose two thirds still hold what the rig can reach.

    One draw serves all groups of jets for discharge_coefficient (one nozzle has one make and one wear), and all hoses
    for coil_extra (one rule). Each group has its own drill, so its own jet_bore; each hose its own bore, roughness and
    reel. Taken as known: lengths, lift, counts, angles, engine power, fittings, velocity coefficients.

    >>> Unknowns(pump_flow="2 %").settle("gauge").gauge
    Known(value=0.0)
    """

    discharge_coefficient: float = _input(Usual(-0.12, 0.1), "fraction", "the jets' edge shape")
    jet_bore: float = _input(Uniform(-25.4e-6, 25.4e-6), "leak_bore", "the jets' hole size")
    hose_bore: float = _input(Usual(-0.03, 0.03), "fraction", "the hose's bore", -0.9, 2.0)
    roughness: float = _input(None, "factor", "the hose's roughness", 0.0, 1000.0)
    coil_diameter: float = _share(0.2, "the reel's size")
    coil_extra: float = _share(0.15, "the rule for a reeled hose")
    water_temperature: float = _input(Uniform(-5.0, 5.0), "temperature_difference", "the water's temperature")
    valve_setting: float = _share(0.03, "the valve's setting")
    valve_rise: float = _share(0.5, "the valve's rise")
    disc_rating: float = _share(0.05, "the burst disc's rating")
    pump_flow: float = _share(0.035, "the pump's flow")
    gauge: float = _share(0.016, "the gauge's own error")
    slip: float = _input(Usual(-0.07, 0.03), "fraction", "slip in the pump", -0.9, 1.0)
    engine_speed: float = _share(0.03, "the engine's speed")
    wear: float = _input(Uniform(0.0, 0.03), "fraction", "the jets' wear", 0.0, 2.0)
    end_fittings: float = _input(Uniform(0.0, 4.0), "ratio", "the hose's end fittings", 0.0, 100.0)
    gauge_full_scale: float = None
    edge: str = None
    wall: str = "rubber hose inner tube"

    def __post_init__(self):
        for item in fields(self):
            if item.metadata:
                object.__setattr__(self, item.name, self._distribution(item))
        if self.gauge_full_scale is not None:
            full_scale = si(self.gauge_full_scale, "pressure", field="gauge_full_scale", owner="Unknowns")
            object.__setattr__(self, "gauge_full_scale", full_scale)
        if not (self.edge is None or isinstance(self.edge, str | list | tuple)):
            raise JetlibError(f"edge is {cut(self.edge)}; write the name of one, or a list of names")
        for edge in self.edges:
            tables.discharge_coefficient(edge)

    @property
    def edges(self) -> tuple:
        """The kinds of edge named, a tuple; empty when none is."""
        if self.edge is None:
            return ()
        return (self.edge,) if isinstance(self.edge, str) else tuple(self.edge)

    def _distribution(self, item):
        value, told = getattr(self, item.name), item.metadata
        if value is None and item.name == "roughness":
            row = tables.roughness(self.wall)
            value = LogUniform(row.low / row.typical, row.high / row.typical)
        if not isinstance(value, Distribution):
            if told["kind"] == "factor":
                if isinstance(value, list | tuple | np.ndarray) or value != 0:
                    raise JetlibError(
                        f"roughness is {value!r}; write roughness=LogUniform(0.5, 2) for half to twice the hose's own, "
                        "or 0 if it is known"
                    )
                return Known(1.0)
            value = si(value, told["kind"], field=item.name, owner="Unknowns")
            if np.ndim(value):
                raise JetlibError(f"{item.name} is a list; write one half-width, Unknowns({item.name}=…)")
            least = 0.0 if item.name in _ONE_WAY else -abs(value)
            value = Uniform(least, abs(value)) if value else Known()
        if not told["least"] <= value.low <= value.high <= told["most"]:
            raise JetlibError(
                f"{item.name} is {value}; write a spread within {told['least']:g} to {told['most']:g} "
                "of the rig's own value"
            )
        return value

    def settle(self, *names: str) -> Self:
        """A copy in which the inputs of these names have been measured: no spread, the rig's own value holds.

        A flow that has been measured settles slip and speed with it, a coefficient that has been measured the wear.
        Raises JetlibError for a name that is no input.
        """
        for name in names:
            if name not in WORDS:
                raise JetlibError(f"there is no input {name!r}; write one of {', '.join(WORDS)}")
        names = {*names, *(other for name in names for other in _GOES_WITH.get(name, ()))}
        changes = dict.fromkeys(names, 0)
        if "discharge_coefficient" in names:
            changes["edge"] = None
        return replace(self, **changes)


_ONE_WAY = ("wear", "end_fittings")
_GOES_WITH = {"pump_flow": ("slip", "engine_speed"), "discharge_coefficient": ("wear",)}
#: What each input is called in a sentence.
WORDS = {item.name: item.metadata["words"] for item in fields(Unknowns) if item.metadata}
