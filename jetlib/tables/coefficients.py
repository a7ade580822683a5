"""Values that are known only within a range: roughness, discharge coefficients, losses of fittings."""

from dataclasses import dataclass
from functools import cache

from jetlib.tables.csv_table import columns_of, millimetres, number, row_named, rows_of


@dataclass(frozen=True)
class CoefficientRange:
    """A value that is only known within a range: the `typical` one, and the `low` and `high` to expect."""

    kind: str
    typical: float
    low: float
    high: float
    source: str
    confidence: str


def _spreads(name, column, unit, parse):
    def in_order(row):
        return None if row["low"] <= row["typical"] <= row["high"] else (column, f"low{unit} to high{unit}")

    headings = {"typical": column, "low": f"low{unit}", "high": f"high{unit}"}
    columns = {
        headings.get(attribute, attribute): (attribute, parse if attribute in headings else own)
        for attribute, own in columns_of(CoefficientRange).values()
    }
    return rows_of(name, CoefficientRange, in_order, columns)


@cache
def roughnesses():
    """Wall roughness (m) by kind of hose, tube or pipe."""
    return _spreads("roughness.csv", "roughness_mm", "_mm", millimetres(0, 10))


def roughness(kind):
    """Wall roughness (m) of that kind, as a CoefficientRange."""
    return row_named(kind, "kind of wall", roughnesses())


@cache
def discharge_coefficients():
    """Discharge coefficient of a jet by the shape of its edge."""
    return _spreads("discharge_coefficients.csv", "discharge_coefficient", "", number(0.3, 1))


def discharge_coefficient(kind):
    """Discharge coefficient of that kind of jet, as a CoefficientRange."""
    return row_named(kind, "kind of jet", discharge_coefficients())


@cache
def fittings():
    """Loss coefficient of fittings, on the velocity head in their own bore."""
    return _spreads("fittings.csv", "loss_coefficient", "", number(0, 100))


def fitting(kind):
    """Loss coefficient of that kind of fitting, on the velocity head in its own bore, as a CoefficientRange."""
    return row_named(kind, "fitting", fittings())
