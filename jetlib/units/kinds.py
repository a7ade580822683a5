"""The kinds of quantity that pass the door and the spellings of their units, as `data/units.toml` lists them."""

from dataclasses import dataclass, field

from jetlib.tables.csv_table import DATA
from jetlib.tables.toml_file import read_toml

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
    us_decimals: int | None = None  # fixed ones
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


def _kind(only=(), some=(), **row):
    listed = {name: tuple(value) if isinstance(value, list) else value for name, value in row.items()}
    return Kind(**listed, only=frozenset(only), some=frozenset(some))


_FILE = read_toml(DATA / "units.toml", what="list of units")
KINDS = {name: _kind(**row) for name, row in _FILE["kinds"].items()}
#: {"exact" or "folded": {what people write: the registry's name}}.
SPELLED = {
    how: {spelling: name for name, spellings in names.items() for spelling in spellings}
    for how, names in _FILE["spelled"].items()
}
#: Units that a rule may be written in, rows of name, kind, unit system, how many of the unit shown there, other names.
IN_RULES = _FILE["in_rules"]
