"""The import rule: an import only points down, and each outside library has one home. Read from the source."""

import ast
import json
import re
import sys
from pathlib import Path

import pytest

import jetlib

PACKAGE = Path(jetlib.__file__).parent
MODULES = sorted(PACKAGE.rglob("*.py"))
# The order of the house: a room may import itself and what stands before it. Within a room the same holds of its
# sub-rooms; behind a bar they are neighbors, each a line of its own, and no neighbor imports another.
HOUSE = ["errors", "physics", "tables", "units", "rig", "course", "screen", "paper"]
SUBROOMS = {
    "rig": "parts point uncertainty hoses jets change job diagnosis rules",
    "course": "store exercises banks progress pages classroom.hidden_fault callouts classroom",
    "screen": "drawing controls callouts | consoles | learning | rules | evidence | bench.entries bench.pages bench"
    " | classroom.hidden_fault classroom | page",
    "paper": "page cards sheets",
}
MOST_FILES = 20  # in one folder
MOST_LINES = 400  # in one module
NUMPY_TOO = {"paper", "screen", "course", "rig", "physics", "units"}
# Who may import what from outside; the standard library is free to all
HOMES = {
    "pint": lambda module: room_of(module) == "units",
    "matplotlib": lambda module: module.startswith("screen."),
    "ipywidgets": lambda module: module.startswith("screen."),
    "IPython": lambda module: module.startswith("screen."),
    "numpy": lambda module: room_of(module) in NUMPY_TOO,
}


def name_of(path):
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def room_of(module):
    return module.split(".")[0]


def places(room):
    """{sub-room: (its line behind the bar, its place on it)} of a room; line 0 stands before every bar."""
    lines = [line.split() for line in SUBROOMS.get(room, "").split("|")]
    return {name: (line, at) for line, names in enumerate(lines) for at, name in enumerate(names)}


def subroom_of(module):
    """The sub-room a module stands in, the innermost that the order names; None for the room's own front door."""
    inner = module.partition(".")[2]
    held = [name for name in places(room_of(module)) if inner == name or inner.startswith(f"{name}.")]
    return max(held, key=len, default=None)


def allowed(module, other):
    """Whether `module` may import `other`, both as dotted names below jetlib."""
    here, there = room_of(module), room_of(other)
    if here != there:
        return HOUSE.index(there) < HOUSE.index(here)
    order, own, its = places(here), subroom_of(module), subroom_of(other)
    if own is None or own == its:
        return True  # a room without sub-rooms, or its front door
    if its is None:
        return False  # nobody goes out by the front door to come in again
    (own_line, own_at), (its_line, its_at) = order[own], order[its]
    # The first line leads up to the bar: whatever stands behind it may import all of that.
    return its_line == 0 if own_line != its_line else its_at < own_at


def imports_of(path):
    """Every module that `path` imports, at the top or inside a function, as absolute dotted names."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    package = ["jetlib", *path.relative_to(PACKAGE).parts[:-1]]
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node.lineno) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            home = ".".join([*base, *([node.module] if node.module else [])])
            if home == "jetlib" or is_folder(home):
                yield from ((f"{home}.{alias.name}", node.lineno) for alias in node.names)
            else:
                yield home, node.lineno


def is_folder(dotted):
    """Whether jetlib's `dotted` name is a folder, so that what is imported from it may be a module."""
    return dotted.startswith("jetlib.") and PACKAGE.joinpath(*dotted.split(".")[1:]).is_dir()


def own_imports(path):
    for name, line in imports_of(path):
        if name.split(".")[0] == "jetlib":
            yield name.removeprefix("jetlib").removeprefix("."), line


def outside_imports(path):
    for name, line in imports_of(path):
        head = name.split(".")[0]
        if head != "jetlib" and head not in sys.stdlib_module_names:
            yield head, line


def test_every_module_has_a_place_in_the_order():
    assert len(MODULES) > 200
    inside = {name_of(path) for path in MODULES} - {""}
    assert not {module for module in inside if room_of(module) not in HOUSE}
    lost = {name for name in inside if room_of(name) in SUBROOMS and "." in name and subroom_of(name) is None}
    lost -= {"paper.__main__", "course.__main__", "course.classroom", "screen.bench"}
    assert not lost, f"give these a sub-room: {', '.join(sorted(lost))}"


def test_every_sub_room_is_there_and_none_is_crowded():
    for room in SUBROOMS:
        for name in places(room):
            assert PACKAGE.joinpath(room, *name.split(".")).is_dir(), f"{room}.{name}"
    for root in (PACKAGE, PACKAGE.parent / "tests"):
        for folder in {path.parent for path in root.rglob("*.py")}:
            assert len(list(folder.glob("*.py"))) <= MOST_FILES, f"{folder.name}: which rooms are hidden in it?"


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_no_module_holds_more_than_one_can_read_at_a_sitting(path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES, "which two things are in it?"


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_imports_point_down(path):
    module = name_of(path)
    if not module or module == "paper.__main__":
        return  # the front door names its rooms as text and opens them when asked; the command uses all
    for name, line in own_imports(path):
        if name:
            assert room_of(name) in HOUSE, f"{path.name}:{line} imports jetlib.{name}; import it from where it lives"
            assert allowed(module, name), f"{path}:{line}: {module} imports {name}, which lies above or beside it"


@pytest.mark.parametrize("path", [p for p in MODULES if room_of(name_of(p)) in ("screen", "paper")], ids=name_of)
def test_pictures_and_paper_know_no_physics(path):
    assert not {name for name, _ in own_imports(path) if room_of(name) == "physics"}


def notebook_imports(path):
    for cell in json.loads(path.read_text("utf-8"))["cells"]:
        if cell["cell_type"] == "code":
            yield from re.findall(r"^\s*(?:from|import) (jetlib[\w.]*)", "".join(cell["source"]), re.MULTILINE)


@pytest.mark.parametrize("path", sorted((PACKAGE.parent / "lessons").glob("*.ipynb")), ids=lambda path: path.stem)
def test_notebooks_come_in_by_the_front_doors(path):
    assert set(notebook_imports(path)) <= {"jetlib", "jetlib.screen"}


def test_the_order_tells_up_from_down_and_sideways():
    assert allowed("rig.diagnosis.faults", "rig.change.factors") and not allowed("rig.parts.part", "rig.job.plan")
    assert allowed("screen.bench.bench", "screen.bench.pages.map")
    assert not allowed("screen.bench.pages.map", "screen.bench.bench")
    assert not allowed("screen.consoles.pump_console", "screen.learning.practice")
    assert allowed("screen.consoles.pump_console", "screen.drawing.gauge") and not allowed("physics.hose", "rig")


def test_the_front_door_imports_nothing_of_its_own():
    assert list(own_imports(PACKAGE / "__init__.py")) == []


@pytest.mark.parametrize("path", [p for p in MODULES if room_of(name_of(p)) == "physics"], ids=name_of)
def test_physics_knows_numpy_and_itself(path):
    assert {name for name, _ in outside_imports(path)} <= {"numpy"}
    assert {room_of(name) for name, _ in own_imports(path) if name} <= {"physics", "errors"}


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_outside_libraries_stay_in_their_homes(path):
    module = name_of(path)
    for library, line in outside_imports(path):
        at_home = HOMES.get(library)
        assert at_home is None or at_home(module), f"{path.name}:{line}: {module} may not import {library}"


def test_whatever_is_imported_is_required():
    # The names under which pip knows what is imported
    required = (PACKAGE.parent / "requirements.txt").read_text(encoding="utf-8")
    known = {re.split(r"[~=<>!\[; ]", line)[0].replace("-", "_").lower() for line in required.splitlines() if line}
    needed = {library for path in MODULES for library, _ in outside_imports(path)}
    needed -= {"IPython", "jupyter_server", "tornado"}  # come with ipywidgets and JupyterLab
    needed = {{"bs4": "beautifulsoup4"}.get(library, library) for library in needed}
    assert {library.lower() for library in needed} <= known


def test_the_reader_of_imports_finds_every_kind(tmp_path, monkeypatch):
    monkeypatch.setitem(globals(), "PACKAGE", tmp_path)
    offender = tmp_path / "physics" / "offender.py"
    offender.parent.mkdir()
    offender.write_text(
        """
import numpy, os.path
import pint.util
import jetlib.course.banks.registry
from jetlib.rig import parts
from jetlib import units
def later():
    from ..screen.drawing.theme import colour
    from . import water
    from .. import paper
    from jetlib.errors import JetlibError
"""
    )
    rooms = [room_of(name) for name, _ in own_imports(offender)]
    assert rooms == ["course", "rig", "units", "screen", "physics", "paper", "errors"]
    assert [name for name, _ in outside_imports(offender)] == ["numpy", "pint"]
