"""The page with its code in sight: what its words say is what its cells print, and it needs nothing else."""

import ast
import re
import sys

import nbformat
import pytest

from jetlib import quantity, si
from jetlib.course.pages.contents import LESSONS

CELLS = nbformat.read(LESSONS / "your_own_sums.ipynb", 4).cells
PROSE = "\n".join(cell.source for cell in CELLS if cell.cell_type == "markdown")
PRINTED = "".join(out.text for cell in CELLS for out in cell.get("outputs", []) if out.output_type == "stream")


def test_it_imports_the_front_doors_numpy_and_matplotlib_alone():
    trees = [ast.parse(cell.source) for cell in CELLS if cell.cell_type == "code"]
    nodes = [node for tree in trees for node in ast.walk(tree)]
    names = {alias.name for node in nodes if isinstance(node, ast.Import) for alias in node.names}
    names |= {node.module for node in nodes if isinstance(node, ast.ImportFrom)}
    ours = {"jetlib", "jetlib.screen", "numpy", "matplotlib.pyplot"}
    assert {name for name in names if name.split(".")[0] not in sys.stdlib_module_names} == ours


def test_its_code_is_in_sight():
    assert not any(cell.metadata.get("jupyter", {}).get("source_hidden") for cell in CELLS)


@pytest.mark.parametrize(
    ("words", "bore", "at"),
    [
        ("The 5/16 in leader, {} ft", "5/16", 0),
        ("reaches farthest: {} ft", "5/16", 1),
        ("leaves about {} psi (134 bar)", "5/16", 2),
        ("The 1/4 in leader reaches {} ft", "1/4", 1),
        ("but leaves only about {} psi", "1/4", 2),
        ("against {} ft", "1/2", 1),
    ],
)
def test_the_answer_is_what_the_study_gives(words, bore, at):
    told = float(re.search(re.escape(words).replace(r"\{\}", r"([\d.]+)"), PROSE)[1])
    line = rf"{bore} in: best at (\d+) ft, reaches (\d+) ft at (\d+) psi"
    assert float(re.search(line, PRINTED)[at + 1]) == pytest.approx(told, rel=0.005)


def test_it_reaches_furthest_of_all():
    reached = {bore: float(ft) for bore, ft in re.findall(r"(\S+) in: best at \d+ ft, reaches (\d+) ft", PRINTED)}
    assert max(reached, key=reached.get) == "5/16"


def test_a_quantity_goes_out_and_comes_back():
    pressure, flow = quantity(2e7, "pressure"), quantity(si("9 gpm", "flow"), "flow")
    assert si(pressure.to("psi"), "pressure") == pytest.approx(2e7)
    assert (pressure * flow).to("kW").magnitude == pytest.approx(11.356, rel=1e-4)
