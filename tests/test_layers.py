"""The import rule: an import only points down, and each outside library has one home. Read from the source."""

import ast
import re
import sys
from pathlib import Path

import pytest

import jetlib

PACKAGE = Path(jetlib.__file__).parent
MODULES = sorted(PACKAGE.rglob("*.py"))
# from the top down; modules that only serve units.py stand beside it
ORDER = ["paper", "screen", "course", "rig", "physics", "units", "tables", "errors"]
BESIDE_UNITS = {"kinds", "number_text", "refusal", "readings"}
# who may import what from outside; the standard library is free to all
NUMPY_TOO = {"paper", "screen", "course", "rig", "physics", "units"}
HOMES = {
    "pint": lambda module: module == "units",
    "matplotlib": lambda module: module.startswith("screen."),
    "ipywidgets": lambda module: module.startswith("screen."),
    "IPython": lambda module: module.startswith("screen."),
    "numpy": lambda module: module.split(".")[0] in NUMPY_TOO | BESIDE_UNITS,
}


def name_of(path):
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def room_of(module):
    head = module.split(".")[0]
    return "units" if head in BESIDE_UNITS else head


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
            if home in ("jetlib", *(f"jetlib.{room}" for room in ORDER)):
                yield from ((f"{home}.{alias.name}", node.lineno) for alias in node.names)
            else:
                yield home, node.lineno


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
    assert len(MODULES) > 20
    strangers = {name_of(path) for path in MODULES} - {""}
    strangers = {module for module in strangers if room_of(module) not in ORDER}
    assert not strangers, f"give these a room: {', '.join(sorted(strangers))}"


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_imports_point_down(path):
    module = name_of(path)
    if not module:
        return  # the front door names its rooms as text and opens them when asked
    level = ORDER.index(room_of(module))
    for name, line in own_imports(path):
        if not name:
            continue
        room = room_of(name)
        assert room in ORDER, f"{path.name}:{line} imports jetlib.{name}; import it from the module where it lives"
        assert ORDER.index(room) >= level, f"{path.name}:{line}: {module} imports {name}, which lies above it"


def test_the_front_door_imports_nothing_of_its_own():
    assert list(own_imports(PACKAGE / "__init__.py")) == []


@pytest.mark.parametrize("path", [p for p in MODULES if room_of(name_of(p)) == "physics"], ids=name_of)
def test_physics_knows_numpy_and_itself(path):
    assert {name for name, _ in outside_imports(path)} <= {"numpy"}
    assert {room_of(name) for name, _ in own_imports(path)} <= {"physics", "errors"}


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_outside_libraries_stay_in_their_homes(path):
    module = name_of(path)
    for library, line in outside_imports(path):
        allowed = HOMES.get(library)
        assert allowed is None or allowed(module), f"{path.name}:{line}: {module} may not import {library}"


def test_whatever_is_imported_is_required():
    # The names under which pip knows what is imported
    required = (PACKAGE.parent / "requirements.txt").read_text(encoding="utf-8")
    known = {re.split(r"[~=<>!\[; ]", line)[0].replace("-", "_").lower() for line in required.splitlines() if line}
    needed = {library for path in MODULES for library, _ in outside_imports(path)}
    needed -= {"IPython"}  # comes with ipywidgets
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
import jetlib.course.bank
from jetlib.rig import parts
from jetlib import units
def later():
    from ..screen.theme import colour
    from . import water
    from .. import paper
    from jetlib.errors import JetlibError
"""
    )
    rooms = [room_of(name) for name, _ in own_imports(offender)]
    assert rooms == ["course", "rig", "units", "screen", "physics", "paper", "errors"]
    assert [name for name, _ in outside_imports(offender)] == ["numpy", "pint"]
