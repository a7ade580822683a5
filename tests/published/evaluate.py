"""The published values and what the course computes for each of them.

`results()` gives one dict a row of values.csv, with the computed value and its disagreement beside the published one;
the tests read it, and so can a page that shows the evidence. A row names a formula (a function of evaluate_flow.py or
evaluate_machine.py, which says what part of jetlib it exercises) and its inputs, as text with units.
"""

import csv
from functools import cache
from pathlib import Path

from evaluate_machine import FORMULAS
from evaluate_units import from_si, read

HERE = Path(__file__).parent
COLUMNS = (
    "id",
    "kind",
    "quantity",
    "conditions",
    "formula",
    "inputs",
    "value",
    "unit",
    "rel_tol",
    "tolerance_reason",
    "source",
    "confidence",
    "applies",
    "why_not",
)
#: Inputs that are names, not quantities.
TEXTS = ("kind", "edge", "material", "size", "standard", "dash", "name")

_ROUNDING = 1e-12  # an exact value may still differ by rounding


@cache
def rows():
    """The rows of values.csv, as dicts of text, in order; `value` and `rel_tol` are numbers."""
    with open(HERE / "values.csv", newline="", encoding="utf-8") as file:
        reader = csv.DictReader(file)
        if tuple(reader.fieldnames) != COLUMNS:
            raise ValueError(f"values.csv has the columns {reader.fieldnames}; they must be {COLUMNS}")
        return [{**row, "value": float(row["value"]), "rel_tol": float(row["rel_tol"])} for row in reader]


def inputs(row):
    """The inputs of a row, in SI: numbers, lists of numbers (where the text has commas) and names."""
    found = {}
    for part in filter(None, (each.strip() for each in row["inputs"].split(";"))):
        key, _, text = part.partition("=")
        key, text = key.strip(), text.strip()
        if key in TEXTS:
            found[key] = text
        elif "," in text:
            found[key] = [read(each) for each in text.split(",")]
        else:
            found[key] = read(text)
    return found


def result(row):
    """The row with `computed` (in the unit of the row), `disagreement` (computed/published - 1) and `agrees`.

    `checked` is the part of jetlib that was exercised. A row that does not apply has None in all four.
    """
    if row["applies"] != "yes":
        return {**row, "computed": None, "disagreement": None, "agrees": None, "checked": None}
    formula, checked = FORMULAS[row["formula"]]
    computed = float(from_si(formula(**inputs(row)), row["unit"]))
    disagreement = computed / row["value"] - 1.0
    agrees = abs(disagreement) <= row["rel_tol"] + _ROUNDING
    return {**row, "computed": computed, "disagreement": disagreement, "agrees": agrees, "checked": checked}


def results():
    """Every row with its result, in the order of values.csv."""
    return [result(row) for row in rows()]
