"""Every published value of values.csv against what the course computes, within the tolerance of its row."""

from collections import Counter

import evaluate
import pytest

ROWS = evaluate.rows()


def of_kind(kind):
    found = [row for row in ROWS if row["kind"] == kind and row["applies"] == "yes"]
    return pytest.mark.parametrize("row", found, ids=[row["id"] for row in found])


def check(row):
    result = evaluate.result(row)
    assert result["agrees"], (
        f"{row['id']} {row['quantity']} ({row['conditions']}): {result['computed']:.6g} against "
        f"{row['value']:.6g} {row['unit']} of {row['source']}: {result['disagreement']:+.2%}, "
        f"allowed {row['rel_tol']:.2%} ({row['tolerance_reason']})"
    )


@of_kind("water")
def test_water(row):
    check(row)


@of_kind("friction")
def test_friction(row):
    check(row)


@of_kind("coil")
def test_coil(row):
    check(row)


@of_kind("fitting")
def test_fitting(row):
    check(row)


@of_kind("series")
def test_series(row):
    check(row)


@of_kind("orifice")
def test_orifice(row):
    check(row)


@of_kind("reaction")
def test_reaction(row):
    check(row)


@of_kind("pump")
def test_pump(row):
    check(row)


@of_kind("size")
def test_size(row):
    check(row)


@of_kind("manning")
def test_manning(row):
    check(row)


def test_every_row_says_all_it_must():
    assert len({row["id"] for row in ROWS}) == len(ROWS)
    for row in ROWS:
        assert row["source"] and row["confidence"] and row["tolerance_reason"] and row["quantity"], row["id"]
        assert row["applies"] in ("yes", "no"), row["id"]
        if row["formula"] == "coefficient_in_range":
            assert evaluate.inputs(row)["measured"] == row["value"], row["id"]
        assert bool(row["formula"]) == (row["applies"] == "yes") == (not row["why_not"]), row["id"]


def test_every_kind_is_tested():
    tested = {name.removeprefix("test_") for name in globals() if name.startswith("test_")}
    assert set(Counter(row["kind"] for row in ROWS)) <= tested


@pytest.mark.parametrize(
    "row", [row for row in ROWS if row["applies"] == "yes" and row["rel_tol"]], ids=lambda r: r["id"]
)
def test_a_wrong_value_would_be_seen(row):
    """The same comparison with the published value moved by more than two tolerances: no row may let that pass."""
    if row["formula"] == "coefficient_in_range":
        # These rows ask for a range, so the value must leave the range, not the tolerance.
        inputs = row["inputs"].rpartition("=")[0] + f"={row['value'] * 1.35}"
        assert not evaluate.result({**row, "value": row["value"] * 1.35, "inputs": inputs})["agrees"]
        return
    wrong = {**row, "value": row["value"] * (1 + 2 * row["rel_tol"] + 1e-9)}
    other = {**row, "value": row["value"] / (1 + 2 * row["rel_tol"] + 1e-9)}
    assert not (evaluate.result(wrong)["agrees"] and evaluate.result(other)["agrees"])
