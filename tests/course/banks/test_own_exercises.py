"""A trainer's own file: checked by the command, then in votes, plans, seat sheets and practice by its ids."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from jetlib.course.__main__ import main
from jetlib.course.banks import registry as bank
from jetlib.course.classroom import vote
from jetlib.course.classroom.session_plan import plans, refused_plans
from jetlib.errors import JetlibError
from jetlib.tables import DATA

EXAMPLE = DATA / "exercises" / "example_of_your_own.toml"
PLAN = """
title = "Our leader"
minutes = 5
for_whom = "everybody"
aims = ["say what is left"]
[[step]]
title = "Cautions"
minutes = 1
kind = "cautions"
[[step]]
title = "Vote"
minutes = 4
kind = "vote"
page = "classroom"
vote = "05-our-leader"
practice = ["01-our-gauge-drops"]
if_wrong = "Once more."
if_split = "Pairs."
if_right = "Go on."
"""


@pytest.fixture
def own(tmp_path, monkeypatch):
    """A folder of a trainer's own with a copy of the example in it."""
    monkeypatch.setattr(bank, "FOLDER", tmp_path)
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "home"))
    shutil.copy(EXAMPLE, tmp_path / "my_questions.toml")
    return tmp_path


def rewrite(path, old, new):
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")
    os.utime(path, ns=(path.stat().st_mtime_ns + 10**7,) * 2)  # as a clock with coarse steps may not tell


def test_the_example_itself_is_nobodys():
    assert not [each for each in bank.own_exercises(DATA / "exercises")[0] if "-our-" in each.id]


def test_own_exercises_are_found_by_id_and_never_count_as_the_courses(own):
    assert bank.exercise("05-our-leader").title == "What the leader hose leaves"
    assert "05-our-leader" in [each.id for each in bank.exercises("05", own=True)]
    assert "05-our-leader" not in [each.id for each in (*bank.exercises("05"), *bank.all_exercises())]


def test_in_votes_plans_seat_sheets_and_practice(own):
    from jetlib.paper.sheets.answers import seat_sheets
    from jetlib.screen import practice

    assert "05-our-leader" in vote.names("05")
    asked = vote.question("05-our-leader", 3)
    assert "leader" in asked.ask("US")
    assert len(asked.options("US")) >= 3
    folder = own / "plans"
    folder.mkdir()
    (folder / "ours.toml").write_text(PLAN, "utf-8")
    assert refused_plans(folder) == ()
    assert plans(folder)["ours"].steps[1].answer("US")
    sheets, key = seat_sheets("05", 3, only=["05-our-leader"])
    assert len(sheets.sections) == 3
    assert "reel hose left out" in "".join(section.body for section in key.sections)
    console = practice("05-our-leader", seed=2)
    console.check()
    assert console.verdict.status == "not attempted"


def test_a_file_is_read_anew_when_it_was_saved(own):
    path = own / "my_questions.toml"
    rewrite(path, "What the leader hose leaves", "What is left")
    assert bank.exercise("05-our-leader").title == "What is left"
    rewrite(path, 'type = "number"', 'type = "numbr"')
    with pytest.raises(
        JetlibError, match=r"Left out until it is fixed: my_questions\.toml, exercise 1 \(05-our-leader\): type"
    ):
        bank.exercise("05-our-leader")
    rewrite(path, 'type = "numbr"', 'type = "number"')
    assert bank.exercise("05-our-leader")


@pytest.mark.parametrize(
    ("new", "said"),
    [("05-rise", "the course has an exercise 05-rise"), ("05-nozzle-against-throttle", "the course has"),
     ("90-mine", "there is no lesson 90; begin the id")],
)  # fmt: skip
def test_an_id_that_is_taken_or_of_no_lesson_is_refused(own, new, said):
    rewrite(own / "my_questions.toml", '"05-our-leader"', f'"{new}"')
    found, refused = bank.own_exercises()
    assert found == ()
    assert said in refused[0]


def test_two_files_of_the_same_ids(own):
    shutil.copy(own / "my_questions.toml", own / "more.toml")
    found, refused = bank.own_exercises()
    assert len(found) == 2
    assert "is in another file too" in refused[0]


def test_the_command_says_what_to_fix(own, capsys):
    path = own / "my_questions.toml"
    assert main([str(path)]) == 0
    assert "Sound: 05-our-leader, 200 sets" in capsys.readouterr().out
    rewrite(path, 'is = "{gauge} − {reel}"', 'is = "{left}"')
    assert main([str(path)]) == 2
    said = capsys.readouterr()
    assert "my_questions.toml, 05-our-leader: makes no variant" in said.err
    assert "only the first hose" in said.err
    assert "Sound: 01-our-gauge-drops" in said.out
    assert main([str(own / "nothing.toml")]) == 2
    assert "nothing.toml" in capsys.readouterr().err


def test_the_command_as_the_example_writes_it():
    """In the course's folder, by the name of a file in data/exercises, in a window of an old code page."""
    root = Path(DATA).parent
    environment = {**os.environ, "PYTHONIOENCODING": "cp850", "PYTHONUTF8": "0"}
    done = subprocess.run(
        [sys.executable, "-m", "jetlib.course", EXAMPLE.name],
        cwd=root,
        env=environment,
        capture_output=True,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    assert b"Sound: 05-our-leader" in done.stdout
    assert "-m jetlib.course my_questions.toml" in EXAMPLE.read_text("utf-8")
