"""A class set is one document: each learner's sheets first, the trainer's last; and every command in print is right."""

import re
import shlex
import subprocess
from pathlib import Path

import nbformat
import pypdf
import pytest

from jetlib.course.classroom.print_orders import order_from
from jetlib.course.progress.progress import Progress
from jetlib.errors import JetlibError
from jetlib.paper.__main__ import main
from jetlib.paper.sheets.class_set import class_set, print_set

ROOT = Path(__file__).parents[3]
PREFIX = ".venv/bin/python -m jetlib.paper "
COMMAND = re.compile(r"[^\s`]*python[\w.]* -m jetlib\.paper[^`\n]*")


def written():
    """Every command for printing in README, this house's papers, pages and plans, up to two spaces."""
    texts = [path.read_text("utf-8") for path in (*ROOT.glob("*.md"), *(ROOT / "data/session_plans").glob("*.toml"))]
    for path in (ROOT / "lessons").glob("*.ipynb"):
        texts += [cell.source for cell in nbformat.read(path, 4).cells]
    return sorted({re.split(r"\s{2,}", each)[0].strip() for text in texts for each in COMMAND.findall(text)})


@pytest.mark.parametrize("command", written())
def test_every_command_in_print_does_what_it_says(command, tmp_path, capsys, monkeypatch):
    assert command.startswith(PREFIX), "another Python would not find jetlib"
    asked = shlex.split(command.removeprefix(PREFIX))
    monkeypatch.chdir(tmp_path)
    (tmp_path / "collected").mkdir()  # where what the class exported has been put
    Progress(tmp_path / "seat").export(tmp_path / "collected")
    if "--help" in asked:
        with pytest.raises(SystemExit, match="0"):
            main(asked)
        return
    assert main([*asked, "--html-only", "--out", str(tmp_path)]) == 0
    assert all(Path(path).stat().st_size > 3000 for path in capsys.readouterr().out.split())


def test_there_are_commands_to_try():
    assert len(written()) >= 5


@pytest.mark.skipif(not (ROOT / ".venv/bin/python").exists(), reason="the course's own Python lies elsewhere")
def test_the_beginning_of_a_command_works_as_it_is_typed():
    done = subprocess.run([*shlex.split(PREFIX), "slips", "--help"], cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0 and "--seats" in done.stdout, done.stderr


def test_a_class_set_holds_learners_sheets_in_copies_and_then_the_trainers():
    told = []
    orders = [order_from("seats 02 02-square-law"), order_from("tables yard_cart"), order_from("slips")]
    document = class_set(orders, "day", seats=3, copies=2, told=lambda *each: told.append(each))
    titles = [section.title.split(".")[0].split(",")[0] for section in document.sections]
    tables = "Hose and jets of Yard cart"
    assert titles == ["Seat 1", "Seat 2", "Seat 3", tables, tables, "Slips for the seats", "Key to 3 sheets"]
    assert told == [(0, orders[0].words), (1, orders[1].words), (2, orders[2].words)]
    assert document.html().count('class="slip"') == 3


@pytest.mark.parametrize("given", [{"copies": 0}, {"copies": 61}, {"copies": True}, {"seats": 0}, {"paper": "A3"}])
def test_numbers_that_are_none_are_refused(given):
    with pytest.raises(JetlibError, match="write"):
        class_set([order_from("slips")], "day", **given)
    with pytest.raises(JetlibError, match="choose a sheet"):
        class_set([], "day")


def test_the_pages_are_counted(tmp_path, browser):
    made = print_set([order_from("slips"), order_from("seats 02 02-square-law")], tmp_path, seats=3)
    assert made.pages == len(pypdf.PdfReader(made.paths[-1]).pages) >= 5
