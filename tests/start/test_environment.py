"""What an installation depends on, what must be done, and that a set-up which fails leaves what worked."""

import shutil
import sys
from pathlib import Path

import pytest
import start_environment as setup
import start_pip
import start_swap
from start_place import SetupProblem, course_requirements, venv_folder, venv_python

ROOT = Path(__file__).parents[2]


def both(root):
    return [root / "requirements.txt", root / "tests" / "requirements.txt"]


# --- what an installation depends on ---


def test_fingerprint_follows_what_matters(root):
    files, requirements = course_requirements(root), root / "requirements.txt"
    first = setup.fingerprint(files, root)
    assert setup.fingerprint(both(root), root) != first
    requirements.write_text("numpy>2\n-e ./jetlib\n")
    assert setup.fingerprint(files, root) != first
    requirements.write_text("numpy\n-e ./jetlib\n")
    (root / "jetlib" / "pyproject.toml").write_text("[project]\nname = 'jetlib'\n")
    assert setup.fingerprint(files, root) != first
    moved = root.rename(root.parent / "elsewhere")
    assert setup.fingerprint(course_requirements(moved), moved)["folder"] == str(moved)


@pytest.mark.parametrize(
    "text",
    [
        b"numpy\r\n-e ./jetlib\r\n",
        b"\xef\xbb\xbfnumpy\n-e ./jetlib\n",
        b"# a comment\n\nnumpy   # for numbers\n   -e   ./jetlib\n\n",
        b"-e ./jetlib\nnumpy\nnumpy",
        b"numpy\n-e \\\n./jetlib\n",
        "numpy\n-e ./jetlib # é\n".encode("latin-1"),
    ],
)
def test_what_means_nothing_to_pip_changes_nothing(root, text):
    first = setup.fingerprint(course_requirements(root), root)
    (root / "requirements.txt").write_bytes(text)
    (root / "jetlib" / "pyproject.toml").write_text("# a comment\n[project]\n")
    assert setup.fingerprint(course_requirements(root), root) == first


def test_a_mark_that_is_no_comment_counts(root):
    first = setup.meaningful_lines("pack @ https://host/pack.zip#sha256=1\n")
    assert first == ["pack @ https://host/pack.zip#sha256=1"]


def test_states(root):
    wanted = setup.fingerprint(course_requirements(root), root)
    all_wanted = setup.fingerprint(both(root), root)
    venv = venv_folder(root)

    def state(name="course", wanted=wanted, works=True):
        return setup.state(name, wanted, root, lambda python: works)

    assert state() == "make"
    venv_python(root).parent.mkdir(parents=True)
    venv_python(root).touch()
    assert state() == "make", "half-made: no stamp yet"
    start_swap.stamp_file("course", venv).write_text('{"python": ')
    assert state() == "make", "half-written stamp"
    start_swap.stamp_file("course", venv).write_text("[]")
    assert state() == "make"
    start_swap.write_stamp("course", wanted, venv)
    assert state() == "nothing"
    assert state(works=False) == "make", "the Python it was made from is gone"
    assert state("tests", all_wanted) == "make"
    start_swap.write_stamp("tests", all_wanted, venv)
    assert state("tests", all_wanted) == "nothing"
    assert state(wanted={**wanted, "requirements": "other"}) == "make"
    assert state(wanted={**wanted, "system": "other"}) == "make"
    assert state(wanted={**wanted, "folder": "other"}) == "mend"
    venv_python(root).unlink()
    assert state() == "make"


def test_python_works_looks_for_the_packages(monkeypatch):
    monkeypatch.setattr(start_pip, "KEY_PACKAGES", ("json", "ast"))
    assert start_pip.python_works(sys.executable)
    monkeypatch.setattr(start_pip, "OLDEST", (99, 0))
    assert not start_pip.python_works(sys.executable)
    monkeypatch.undo()
    monkeypatch.setattr(start_pip, "KEY_PACKAGES", ("json", "no_such_package_here"))
    assert not start_pip.python_works(sys.executable)
    assert not start_pip.python_works("/nowhere/python")


# --- making sure ---


def test_second_start_installs_nothing(root, installs):
    setup.ensure(root=root)
    assert installs == ["make", ["requirements.txt"]]
    assert setup.ensure(root=root) == venv_python(root)
    assert len(installs) == 2
    setup.ensure(root=root, redo=True)
    assert installs[2:] == ["make", ["requirements.txt"]]


def test_tests_share_the_environment(root, installs):
    setup.ensure(root=root)
    setup.ensure(both(root), "tests", root)
    assert installs[2:] == ["make", ["requirements.txt", "requirements.txt"]]
    setup.ensure(root=root)
    setup.ensure(both(root), "tests", root)
    assert len(installs) == 4


def test_changed_requirements_are_installed_beside_what_is_there(root, installs, monkeypatch):
    setup.ensure(root=root)
    (root / "requirements.txt").write_text("numpy>2\n")
    seen = []
    install = start_pip.install
    monkeypatch.setattr(start_pip, "install", lambda *words: (seen.append(venv_python(root).exists()), install(*words)))
    setup.ensure(root=root)
    assert installs[2:] == ["make", ["requirements.txt"]] and seen == [True]
    assert sorted(root.glob(".venv*")) == [venv_folder(root)]


@pytest.mark.parametrize("failure", [KeyboardInterrupt, SetupProblem, OSError])
@pytest.mark.parametrize("before", ["nothing there", "set up, then requirements changed", "set up, then redone"])
def test_interrupted_install_takes_nothing_away_and_is_done_again(root, installs, monkeypatch, failure, before, capsys):
    if before != "nothing there":
        setup.ensure(root=root)
        (venv_folder(root) / "mine").touch()
    if "changed" in before:
        (root / "requirements.txt").write_text("numpy>2\n")

    def fail(requirements, root, venv):
        raise failure("pip stopped")

    working = start_pip.install
    monkeypatch.setattr(start_pip, "install", fail)
    capsys.readouterr()
    if before == "nothing there" or failure is KeyboardInterrupt:
        with pytest.raises(SetupProblem if failure is OSError else failure):
            setup.ensure(root=root, redo="redone" in before)
        assert venv_python(root).exists() == (before != "nothing there")
    else:
        assert setup.ensure(root=root, redo="redone" in before) == venv_python(root)
        assert "pip stopped" in capsys.readouterr().out
    assert (venv_folder(root) / "mine").exists() == (before != "nothing there")
    assert not (root / ".venv-new").exists()
    monkeypatch.setattr(start_pip, "install", working)
    installs.clear()
    setup.ensure(root=root)
    assert installs == ([] if "redone" in before else ["make", ["requirements.txt"]])
    setup.ensure(root=root)
    assert len(installs) <= 2


def test_the_tests_do_not_run_on_less_than_they_need(root, installs, monkeypatch):
    setup.ensure(root=root)

    def fail(requirements, root, venv):
        raise SetupProblem("no network")

    monkeypatch.setattr(start_pip, "install", fail)
    with pytest.raises(SetupProblem, match="no network"):
        setup.ensure(both(root), "tests", root)
    assert venv_python(root).exists()


def test_another_python_keeps_the_environment(root, installs, monkeypatch):
    setup.ensure(root=root)
    monkeypatch.setattr(setup.sys, "version_info", (3, 14, 0, "final", 0))
    setup.ensure(root=root)
    assert len(installs) == 2


def test_a_course_that_was_moved_or_copied_keeps_its_environment(root, installs, capsys):
    setup.ensure(root=root)
    setup.ensure(both(root), "tests", root)
    copy = Path(shutil.copytree(root, root.parent / "copy", symlinks=True))
    moved = root.rename(root.parent / "moved")
    for place in (copy, moved):
        setup.ensure(root=place)
        setup.ensure(both(place), "tests", place)
        assert "its environment with it" in capsys.readouterr().out
    assert len(installs) == 4


def test_nothing_is_swapped_under_a_course_that_runs(root, installs, monkeypatch, capsys):
    setup.ensure(root=root)
    (root / "requirements.txt").write_text("numpy>2\n")
    monkeypatch.setattr(setup, "running_server", lambda root: {"port": 8888})
    setup.ensure(root=root)
    assert "open in another window" in capsys.readouterr().out
    with pytest.raises(SetupProblem, match="another window"):
        setup.ensure(both(root), "tests", root)
    assert len(installs) == 2


def test_an_environment_in_use_is_replaced_at_the_next_start(root, installs, monkeypatch, capsys):
    setup.ensure(root=root)
    (root / "requirements.txt").write_text("numpy>2\n")
    rename = start_swap.rename
    # Windows renames no folder in which a program runs.
    monkeypatch.setattr(start_swap, "rename", lambda path, place: path.name != ".venv" and rename(path, place))
    setup.ensure(root=root)
    assert "Close other windows" in capsys.readouterr().out and venv_python(root).exists()
    monkeypatch.setattr(start_swap, "rename", rename)
    setup.ensure(root=root)
    assert len(installs) == 4, "made once"
    assert sorted(root.glob(".venv*")) == [venv_folder(root)]


def test_full_disk_stops_before_anything_is_made(root, installs, monkeypatch):
    monkeypatch.setattr(setup, "space_problem", lambda free, size: "too full")
    with pytest.raises(SetupProblem, match="too full"):
        setup.ensure(root=root)
    assert installs == [] and not (root / ".venv").exists()


def test_two_starts_wait_for_each_other(tmp_path, capsys, monkeypatch):
    file = tmp_path / "lock"
    file.write_text("x")
    with setup.alone(file):
        assert "Another window" not in capsys.readouterr().out

        def give_up(seconds):
            raise KeyboardInterrupt

        monkeypatch.setattr(setup.time, "sleep", give_up)
        with pytest.raises(KeyboardInterrupt), setup.alone(file):
            pass
        assert capsys.readouterr().out.count("Another window") == 1
    with setup.alone(file):
        assert "Another window" not in capsys.readouterr().out
