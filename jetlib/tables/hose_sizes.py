"""Sizes of hose by standard and edition."""

from dataclasses import dataclass
from functools import cache

from jetlib.tables.csv_table import (
    CONFIDENCES,
    column,
    dash_size,
    inches,
    millimetres,
    number,
    one_of,
    plain_name,
    rows_of,
    unknown,
)

USUAL_HOSE = "EN 853 2SN"  # two wire braid: what `hose` gives when no standard is named


@dataclass(frozen=True)
class HoseSize:
    """One size of hose in one edition of a standard; lengths in m, pressure in Pa, mass in kg/m.

    `bore` is the mean of the inside-diameter limits. `working_pressure` is what the standard asks of that size and
    edition: what is printed on the hose, and the machine's manual, come before it. `mass_per_metre` is an estimate.
    `pressure_confidence` is that of the pressure, `confidence` that of all else.
    """

    dash: int = column(dash_size)
    nominal_bore: float = column(inches, "nominal_bore_in")
    bore: float = column(millimetres(2, 60), "bore_mm")
    bore_min: float = column(millimetres(2, 60), "bore_min_mm")
    bore_max: float = column(millimetres(2, 60), "bore_max_mm")
    outside_diameter_max: float = column(millimetres(4, 100), "outside_diameter_max_mm")
    standard: str
    edition: str
    construction: str
    working_pressure: float = column(number(10, 1500, times="100000"), "working_pressure_bar")
    bend_radius: float = column(millimetres(10, 1000), "bend_radius_mm")
    mass_per_metre: float = column(number(0.02, 10), "mass_kg_per_m")
    mass_basis: str
    pressure_confidence: str = column(one_of(*CONFIDENCES))
    source: str
    confidence: str

    @property
    def label(self):
        """Such as -6 EN 853 2SN (2015)."""
        return f"-{self.dash} {self.standard} ({self.edition})"


def _bore_within_limits(row):
    if not row["bore_min"] <= row["bore"] <= row["bore_max"] < row["outside_diameter_max"]:
        return "bore_mm", "bore_min_mm to bore_max_mm, and below outside_diameter_max_mm"
    return None


@cache
def hoses():
    """Every hose size of every standard and edition in the table."""
    return rows_of("hoses.csv", HoseSize, _bore_within_limits)


@cache
def drain_hoses():
    """Those of them that go into a drain: up to 1 in. Wider ones lie between truck and manhole."""
    return tuple(row for row in hoses() if row.dash <= 16)


def hose(dash, standard=None, edition=None):
    """The hose of that dash size (6, "-6"): of USUAL_HOSE and of the newest edition unless others are named.

    standard: "EN 853 2SN", or its last word. Raises JetlibError that lists what there is.
    """
    size = plain_name(dash, "dash size").removeprefix("-")
    of_size = [row for row in hoses() if str(row.dash) == size]
    if not of_size:
        raise unknown(dash, "dash size", [f"-{row.dash}" for row in hoses()])
    wanted = plain_name(USUAL_HOSE if standard is None else standard, "standard")
    found = [row for row in of_size if f" {row.standard.lower()}".endswith(f" {wanted}")]
    if not found:
        raise unknown(standard, f"-{size} hose to standard", [row.standard for row in of_size])
    if edition is None:
        return max(found, key=lambda row: row.edition)
    for row in found:
        if row.edition == plain_name(edition, "edition"):
            return row
    raise unknown(edition, f"edition of {found[0].standard}", [row.edition for row in found])


@cache
def nominal_hoses():
    """The HoseSize that each nominal size means, a dict by nominal bore (m, to 0.1 um): USUAL_HOSE, newest edition.

    `bore` is the mean of its limits, 5.0 mm for 3/16 in and 12.9 mm for 1/2 in: what a typed name is taken for.
    """
    usual = sorted((row for row in hoses() if row.standard == USUAL_HOSE), key=lambda row: row.edition)
    return {round(row.nominal_bore, 7): row for row in usual}


def hose_of_bore(bore):
    """The HoseSize whose mean bore is `bore` (m), or None: a measured one."""
    return next((row for row in nominal_hoses().values() if abs(row.bore - bore) < 1e-9), None)
