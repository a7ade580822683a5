"""A folder that looks like the course, for the tests of the set-up. Nothing is fetched here."""

import shutil
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "lessons"))
sys.path.insert(0, str(Path(__file__).parent))

import start_environment  # noqa: E402
import start_pages  # noqa: E402
import start_pip  # noqa: E402
import start_place  # noqa: E402


@pytest.fixture
def root(tmp_path):
    """A folder that looks like the course, in a place with an awkward name."""
    root = tmp_path / "yard's [course] é"
    shutil.copytree(ROOT / "jetlib/screen/page", root / "jetlib/screen/page", ignore=shutil.ignore_patterns("__*__"))
    (root / "lessons").mkdir()
    (root / "tests").mkdir()
    (root / "requirements.txt").write_text("numpy\n-e ./jetlib\n")
    (root / "tests" / "requirements.txt").write_text("pytest\n")
    (root / "jetlib" / "pyproject.toml").write_text("[project]\n")
    (root / "jetlib" / "__init__.py").write_text("")
    for name in ("00_start_here", "02_orifice_flow", "03_hose_friction", "bench"):
        page = root / "lessons" / f"{name}.ipynb"
        page.write_text('{"cells": [], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}\n')
        start_pages.pack(page, root)
    return root


@pytest.fixture
def course(root):
    """The same with the start scripts in it, to be run as a program: see `faked.py`."""
    for path in (ROOT / "lessons").glob("start*.py"):
        shutil.copyfile(path, root / "lessons" / path.name)
    return root


@pytest.fixture
def installs(root, monkeypatch):
    """Fakes in place of venv and pip; the list holds what they were asked to do."""
    done = []

    def make_venv(venv, root):
        done.append("make")
        start_place.python_in(venv).parent.mkdir(parents=True)
        start_place.python_in(venv).touch()

    monkeypatch.setattr(start_pip, "make_venv", make_venv)
    monkeypatch.setattr(start_pip, "install", lambda files, root, venv: done.append([path.name for path in files]))
    monkeypatch.setattr(start_pip, "python_works", lambda python: python.exists())
    monkeypatch.setattr(start_environment, "space_problem", lambda free, size: None)
    return done
