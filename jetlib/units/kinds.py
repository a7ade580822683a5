"""The kinds of quantity that pass the door: SI unit, plausible range, units to write, units to show."""

from dataclasses import dataclass, field
from math import pi

ROTATION = frozenset({"revolutions_per_minute", "revolutions_per_second", "radian", "degree", "turn"})
ANGLES = frozenset({"radian", "degree", "turn", "grade", "arcminute", "arcsecond", "milliradian"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of quantity; ranges in SI, units as the registry in `jetlib.units` spells them.

    Two ranges: `low` to `high` is what is accepted at all, `usual` is where a number typed with a
    forgotten unit is looked for. `zero` lets exactly 0 pass although it is below `low`.
    """

    noun: str
    unit: str
    si_label: str
    low: float
    high: float
    usual: tuple[float, float]
    hints: tuple[str, ...]  # best first; "#" is a number drill, "-" a dash size, "1:" a slope
    wants: str = ""  # in words; the labels of both systems unless said
    example: str
    us: tuple[str, str]  # label, unit
    metric: tuple[str, str] | None = None  # that of the US unless said
    zero: bool = False
    decimals: tuple[int | None, int | None] = (None, None)  # fixed decimals in US and metric
    figures: int = 3  # significant ones, of what is shown below 100
    plain_text: bool = False  # text without a unit is accepted
    drills: bool = False  # a drill size such as "#54" is accepted
    only: frozenset[str] = frozenset()  # no units but these
    some: frozenset[str] = frozenset()  # at least one of these units
    meaning: dict[str, str] = field(default_factory=dict)  # what a unit means for this kind alone

    def __post_init__(self):
        metric = self.metric or self.us
        object.__setattr__(self, "metric", metric)
        object.__setattr__(self, "wants", self.wants or f"{self.us[0]} or {metric[0]}")


_LENGTH = {"noun": "length", "unit": "meter", "si_label": "m"}
_BORE = _LENGTH | {"wants": "mm or in", "us": ("in", "inch"), "metric": ("mm", "millimeter")}
_PRESSURE = {"noun": "pressure", "unit": "pascal", "si_label": "Pa"}
_TURNS = {"1/min": "rpm", "1/minute": "rpm", "min^-1": "rpm"}
_BY_WEIGHT = {"kg/cm2": "kgf/cm2", "kg/cm^2": "kgf/cm2", "lb/in2": "psi", "lb/in^2": "psi", "lbs/in2": "psi"}
_BY_WEIGHT |= dict.fromkeys(("pound", "pounds"), "psi")  # "the gauge reads 3000 pounds"
_AS_FORCE = dict.fromkeys(("lb", "lbs", "pound", "pounds", "poundsforce", "lbsforce"), "lbf") | {"kilos": "kgf"}
_NO_LIMIT = {"low": -1e30, "high": 1e30, "usual": (-1e30, 1e30)}

KINDS = {
    "flow": Kind(
        noun="flow", unit="meter**3/second", si_label="m3/s", low=0, high=0.1, usual=(1e-5, 2e-2),
        hints=("gpm", "L/min", "m3/h"), example="8 gpm", us=("gpm", "gallon/minute"), metric=("L/min", "liter/minute"),
    ),
    "pressure": Kind(
        **_PRESSURE, low=1e4, high=4e8, zero=True, usual=(1e6, 1.5e8), hints=("bar", "psi", "MPa"), example="3000 psi",
        us=("psi", "psi"), metric=("bar", "bar"), meaning=_BY_WEIGHT,
    ),
    "barometric_pressure": Kind(
        **_PRESSURE, low=4e4, high=1.1e5, usual=(6e4, 1.1e5), hints=("kPa", "psi", "inHg", "mbar"), example="101.3 kPa",
        us=("psi", "psi"), metric=("kPa", "kilopascal"), meaning={"psia": "psi", "bara": "bar"},
    ),
    "vapour_pressure": Kind(
        **_PRESSURE, low=0, high=1e5, usual=(500, 3e4), hints=("kPa", "psi"), example="2.34 kPa",
        us=("psi", "psi"), metric=("kPa", "kilopascal"), meaning={"psia": "psi", "bara": "bar"},
    ),
    "shear_stress": Kind(
        noun="pressure", unit="pascal", si_label="Pa", low=0, high=1e5, usual=(0.1, 1e3),
        hints=("Pa", "lbf/ft2"), wants="Pa or lbf/ft2", example="2 Pa",
        us=("lbf/ft²", "force_pound/foot**2"), metric=("Pa", "pascal"),
    ),
    "length": Kind(
        **_LENGTH, low=0, high=5000, usual=(0.1, 2000), hints=("ft", "m", "in", "mm"), example="150 ft",
        us=("ft", "foot"), metric=("m", "meter"),
    ),
    "lift": Kind(
        **_LENGTH, low=-1000, high=1000, usual=(-200, 200), hints=("ft", "m", "in", "mm"), example="10 ft",
        us=("ft", "foot"), metric=("m", "meter"),
    ),
    "altitude": Kind(
        **_LENGTH, low=-500, high=6000, usual=(-100, 5000), hints=("ft", "m"), example="5000 ft",
        us=("ft", "foot"), metric=("m", "meter"),
    ),
    "bore": Kind(
        **_BORE, low=5e-4, high=0.2, usual=(2e-3, 0.06), hints=("mm", "in", "-"), example="3/8 in", drills=True,
    ),
    "hose_bore": Kind(
        **_BORE, low=5e-4, high=0.2, usual=(2e-3, 0.06), hints=("mm", "in", "-"), example="3/8 in", drills=True,
    ),
    "jet_bore": Kind(
        **_BORE, low=1e-4, high=0.02, usual=(3e-4, 6e-3), hints=("mm", "in", "#"), example="0.055 in",
        decimals=(4, None), drills=True,
    ),
    "leak_bore": Kind(
        **_BORE, low=1e-5, high=0.02, zero=True, usual=(1e-4, 6e-3), hints=("mm", "in", "#"), example="0.5 mm",
        decimals=(4, None), drills=True,
    ),
    "pipe_bore": Kind(
        **_BORE, low=0.01, high=4, usual=(0.03, 2), hints=("mm", "in"), example="4 in",
    ),
    "coil_diameter": Kind(
        **_LENGTH, low=0.03, high=20, usual=(0.1, 3),
        hints=("mm", "in", "cm", "ft"), wants="in, ft, mm or m", example="18 in",
        us=("in", "inch"), metric=("m", "meter"),
    ),
    "roughness": Kind(
        **_BORE, low=0, high=5e-3, usual=(1e-7, 3e-3), hints=("mm", "um", "in"), example="0.0015 mm",
    ),
    "temperature": Kind(
        # The slack lets 60 degC through whatever the last digit of its conversion does.
        noun="temperature", unit="kelvin", si_label="K", low=273.15 - 1e-6, high=333.15 + 1e-6,
        usual=(273.15 - 1e-6, 333.15 + 1e-6), hints=("degC", "degF"), wants="degC or degF", example="20 degC",
        us=("°F", "degF"), metric=("°C", "degC"),
    ),
    "temperature_difference": Kind(
        noun="temperature", unit="kelvin", si_label="K", low=-500, high=500, usual=(-100, 100),
        hints=("degC", "degF"), wants="a difference in degC or degF", example="10 degC",
        only=frozenset({"kelvin", "delta_degree_Celsius", "delta_degree_Fahrenheit"}),
        us=("°F", "delta_degF"), metric=("°C", "delta_degC"), meaning={"degC": "delta_degC", "degF": "delta_degF"},
    ),
    "speed": Kind(
        noun="speed of rotation", unit="radian/second", si_label="rad/s", low=0, high=1000, usual=(1, 800),
        hints=("rpm",), wants="rpm", example="1450 rpm", some=ROTATION, meaning=_TURNS,
        us=("rpm", "revolutions_per_minute"),
    ),
    "angle": Kind(
        noun="angle", unit="radian", si_label="rad", low=0, high=pi, usual=(0, pi),
        hints=("deg",), wants="deg", example="15 deg", only=ANGLES, us=("°", "degree"),
    ),
    "power": Kind(
        noun="power", unit="watt", si_label="W", low=100, high=5e6, usual=(200, 1e6),
        hints=("kW", "hp"), example="11 hp", us=("hp", "horsepower"), metric=("kW", "kilowatt"),
    ),
    "force": Kind(
        noun="force", unit="newton", si_label="N", low=-1e6, high=1e6, usual=(-1e5, 1e5),
        hints=("lbf", "N", "kN"), example="20 lbf", figures=2,  # 12 lbf: nobody knows a pull to a hundredth
        us=("lbf", "force_pound"), metric=("N", "newton"), meaning=_AS_FORCE,
    ),
    "area": Kind(
        noun="area", unit="meter**2", si_label="m2", low=0, high=20, usual=(1e-8, 1e-3),
        hints=("mm2", "in2"), wants="mm2 or in2", example="6 mm2",
        us=("in²", "inch**2"), metric=("mm²", "millimeter**2"),
    ),
    "mass": Kind(
        noun="mass", unit="kilogram", si_label="kg", low=0, high=1e6, usual=(0.01, 1e5),
        hints=("lb", "kg"), example="40 lb", us=("lb", "pound"), metric=("kg", "kilogram"),
    ),
    "mass_per_length": Kind(
        noun="mass per length", unit="kilogram/meter", si_label="kg/m", low=0, high=100, usual=(0.01, 20),
        hints=("lb/ft", "kg/m", "g/m"), example="0.2 lb/ft",
        us=("lb/ft", "pound/foot"), metric=("kg/m", "kilogram/meter"),
    ),
    "volume": Kind(
        noun="volume", unit="meter**3", si_label="m3", low=0, high=100, usual=(1e-4, 50),
        hints=("gal", "L"), example="200 gal", us=("gal", "gallon"), metric=("L", "liter"),
    ),
    "displacement": Kind(
        # The radian is dimensionless, so a volume for each turn needs no unit of its own here.
        noun="volume", unit="meter**3", si_label="m3 per turn", low=1e-8, high=0.1, usual=(1e-6, 1e-2),
        hints=("mL", "in3"), wants="mL or in3 (for one turn)", example="20 mL",
        us=("in³", "inch**3"), metric=("mL", "milliliter"),
    ),
    "time": Kind(
        noun="time", unit="second", si_label="s", low=0, high=1e7, usual=(0.1, 1e6),
        hints=("s", "min"), wants="s, min or h", example="30 s", us=("s", "second"),
    ),
    "duration": Kind(
        noun="time", unit="second", si_label="s", low=0, high=1e7, usual=(0.1, 1e6),
        hints=("min", "s", "h"), wants="s, min or h", example="20 min", us=("min", "minute"),
    ),
    "fraction": Kind(
        noun="fraction", unit="dimensionless", si_label="a fraction", low=0, high=1, usual=(0, 1),
        hints=("%",), wants="a number from 0 to 1, or %", example="50 %", plain_text=True,
        only=frozenset({"percent", "permille"}), us=("%", "percent"),
    ),
    "slope": Kind(
        noun="slope", unit="dimensionless", si_label="fall over length", low=0, high=1, usual=(1e-4, 1),
        hints=("%", "1:", "mm/m"), wants='a form such as "1:60", "2 %" or "1/4 in/ft"', example="1:60",
        plain_text=True, us=("%", "percent"),
    ),
    "loss_coefficient": Kind(
        noun="loss coefficient", unit="dimensionless", si_label="no unit", low=0, high=1e4, usual=(0, 1e4),
        hints=(), wants="a number without unit", example="0.9", plain_text=True,
        only=frozenset({"dimensionless"}), us=("", ""),
    ),
    "ratio": Kind(
        noun="ratio", unit="dimensionless", si_label="no unit", **_NO_LIMIT,
        hints=(), wants="a number without unit", example="1.5", plain_text=True,
        only=frozenset({"percent"}), us=("", ""),
    ),
    "density": Kind(
        noun="density", unit="kilogram/meter**3", si_label="kg/m3", low=500, high=3000, usual=(900, 1500),
        hints=("kg/m3", "lb/ft3", "g/cm3"), wants="lb/ft3 or kg/m3", example="998 kg/m3",
        us=("lb/ft³", "pound/foot**3"), metric=("kg/m³", "kilogram/meter**3"),
    ),
    "viscosity": Kind(
        noun="viscosity", unit="pascal*second", si_label="Pa s", low=1e-5, high=1, usual=(3e-4, 2e-3),
        hints=("mPa s", "cP"), wants="mPa s or cP", example="1.0 mPa s",
        us=("cP", "centipoise"), metric=("mPa·s", "millipascal*second"),
    ),
    "velocity": Kind(
        noun="velocity", unit="meter/second", si_label="m/s", low=0, high=2000, usual=(0.01, 500),
        hints=("ft/s", "m/s"), example="5 ft/s", us=("ft/s", "foot/second"), metric=("m/s", "meter/second"),
    ),
}  # fmt: skip
