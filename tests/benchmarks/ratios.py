"""A measured ratio, what is wanted of it, and how it is shown."""

from typing import NamedTuple


class Ratio(NamedTuple):
    """What was measured against what, the ratio (or a figure in its own unit), and the most that is wanted.

    least: `wanted` is the least instead. wanted None: shown for information.
    """

    what: str
    value: float
    wanted: float | None = None
    least: bool = False

    @property
    def held(self):
        """Whether it is as wanted."""
        return self.wanted is None or (self.value >= self.wanted if self.least else self.value <= self.wanted)

    def cells(self):
        """What, measured and wanted as texts."""
        wanted = "" if self.wanted is None else f"{self.wanted:g} or {'more' if self.least else 'less'}"
        return self.what, f"{self.value:.3g}", wanted + ("" if self.held else ": not held")


def printed(ratios, words=()):
    """A plain table, and the sentences under it."""
    rows = [("what", "measured", "wanted"), *(ratio.cells() for ratio in ratios)]
    width = max(len(row[0]) for row in rows)
    lines = [f"{what:<{width}}{value:>10}  {wanted}" for what, value, wanted in rows]
    return "\n".join([*lines, "", *words])


def markdown(ratios):
    """The rows of a markdown table."""
    return "\n".join(f"| {' | '.join(ratio.cells())} |" for ratio in ratios)
