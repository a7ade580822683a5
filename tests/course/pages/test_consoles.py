"""The registry of consoles: each is where it says, can be made, and can be set as data/consoles.json says."""

import ast
import json
import runpy
from pathlib import Path

import pytest

import jetlib.screen as screen
from jetlib.course.classroom.session_sight import seen
from jetlib.course.pages.consoles import CONSOLES, TABLE, console
from jetlib.course.pages.contents import LESSONS, page
from jetlib.errors import JetlibError

TABLE_MAKER = Path(__file__).parents[2] / "consoles_table.py"


def calls(stem):
    """Names that the code cells of a page call."""
    cells = json.loads((LESSONS / f"{stem}.ipynb").read_text("utf-8"))["cells"]
    trees = [ast.parse("".join(cell["source"])) for cell in cells if cell["cell_type"] == "code"]
    nodes = [node for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Call)]
    return {node.func.id for node in nodes if isinstance(node.func, ast.Name)}


def test_every_console_of_a_page_is_listed_and_every_one_listed_is_on_its_page():
    shown = {stem: calls(stem) for stem in {record.page for record in CONSOLES.values()}}
    for name, record in CONSOLES.items():
        assert page(record.page).stem == record.page
        assert name in shown[record.page], name
        assert getattr(screen, name) is record.maker()
    assert {name for names in shown.values() for name in names if name.endswith("_console")} <= set(CONSOLES)


def test_what_can_be_set_is_what_the_consoles_have():
    assert json.loads(TABLE.read_text("utf-8")) == runpy.run_path(TABLE_MAKER)["table"](), f"run {TABLE_MAKER}"


SET = {
    "jets_console": {"flow": "4 gpm", "bore": "#60"},
    "hose_console": {"flow": "4 gpm", "bore_1": "1/2 in", "length_1": "200 ft"},
    "pump_console": {"outlet": "open"},
    "drills_console": {"drill": "#60"},
    "pull_console": {"throttle": "100 %"},
}


def test_what_a_console_shows_can_be_worked_out():
    for name, record in CONSOLES.items():
        if record.shows:
            assert set(seen(name, SET.get(name, {}))) >= set(record.shows), name
        else:
            with pytest.raises(JetlibError, match="no quantity of it"):
                seen(name, {})


def test_an_unknown_console_is_refused_with_those_there_are():
    for name in ("no_console", None, 3):
        with pytest.raises(JetlibError, match="pump_console"):
            console(name)
