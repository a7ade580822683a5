"""Sizes of drain pipe, and the pressure that each family of pipe is to be jetted with at most."""

from dataclasses import dataclass
from functools import cache

from jetlib.tables.csv_table import column, millimetres, number, one_of, plain_name, row_named, rows_of, unknown


@dataclass(frozen=True)
class PipeSize:
    """The bore of one size of drain pipe, `inside_diameter` in m, and Manning's n (s/m^(1/3)) of that material.

    `basis` says how the bore was had: from the standard, from outside diameter and wall, or nominal. `confidence`
    is that of the bore; `source` says where n comes from too.
    """

    material: str
    standard: str
    nominal_size: str
    outside_diameter: float | None = column(millimetres(10, 2000, blank=True), "outside_diameter_mm")
    wall: float | None = column(millimetres(0.5, 200, blank=True), "wall_mm")
    inside_diameter: float = column(millimetres(10, 2000), "inside_diameter_mm")
    basis: str
    manning_n: float = column(number(0.005, 0.05))
    manning_n_low: float = column(number(0.005, 0.05))
    manning_n_high: float = column(number(0.005, 0.05))
    family: str
    source: str
    confidence: str

    @property
    def label(self):
        """Such as 4 in PVC SDR 35 (ASTM D3034)."""
        return f"{self.nominal_size} {self.material} ({self.standard})"


def _pipe_adds_up(row):
    outside, wall, inside = row["outside_diameter"], row["wall"], row["inside_diameter"]
    if (outside is None) != (wall is None):
        return "wall_mm", "a wall with an outside diameter, or both blank"
    if outside is not None and abs(outside - 2 * wall - inside) > 1e-6:
        return "inside_diameter_mm", f"outside diameter less twice the wall, {(outside - 2 * wall) * 1e3:.6g}"
    if not row["manning_n_low"] <= row["manning_n"] <= row["manning_n_high"]:
        return "manning_n", "manning_n_low to manning_n_high"
    return None


@cache
def pipes():
    """Every size of drain pipe in the table."""
    return rows_of("pipes.csv", PipeSize, _pipe_adds_up)


def pipe(label):
    """The pipe with that label: "4 in PVC SDR 35 (ASTM D3034)"; the standard may be left out."""
    asked = plain_name(label, "pipe")
    for row in pipes():
        if asked in (row.label.lower(), f"{row.nominal_size} {row.material}".lower()):
            return row
    raise unknown(label, "pipe", [row.label for row in pipes()])


@dataclass(frozen=True)
class PipeLimit:
    """The most pressure (Pa), `limit`, that a sound pipe of a `family` of materials is to be jetted with.

    `coded`: a code of practice says so; the others are what is done for want of one.
    """

    family: str
    limit: float = column(number(100, 20000, times="6894.757293168361"), "limit_psi")
    coded: bool = column(lambda cell: one_of("yes", "no")(cell) == "yes")
    source: str
    confidence: str


@cache
def pipe_limits():
    """The limit of every family of pipe."""
    return rows_of("pipe_limits.csv", PipeLimit)


def pipe_limit(family):
    """The PipeLimit of that family of pipe, such as "plastic"."""
    return row_named(family, "pipe material", pipe_limits(), "family")
