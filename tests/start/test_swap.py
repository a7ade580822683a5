"""The swap of environments: whatever moment a start is killed at, the next one finds one that works."""

import contextlib
import itertools
import os
import subprocess
import sys
import zipfile
from io import BytesIO
from pathlib import Path

import pytest
import start_pip
import start_place
import start_swap


def lay(root, name, finished=True, mark="x"):
    """An environment in a folder, with a stamp if it is finished, and a mark to tell it by."""
    venv = root / name
    start_place.python_in(venv).parent.mkdir(parents=True)
    (venv / "pyvenv.cfg").write_text("home = /usr/bin\n")
    (venv / "mark").write_text(mark)
    if finished:
        start_swap.write_stamp("course", {"folder": str(root)}, venv)
    return venv


# --- whatever was left behind ---


@pytest.mark.parametrize("left", itertools.product([None, False, True], repeat=3))
def test_recovery_keeps_one_that_is_finished(root, left):
    """Every combination of the three folders: not there, half-made, finished."""
    names = (".venv", ".venv-new", ".venv-old")
    for name, finished in zip(names, left, strict=True):
        if finished is not None:
            lay(root, name, finished, mark=name)
    start_swap.recover(root)
    venv, new, _ = left
    if any(left):
        best = ".venv" if venv else ".venv-new" if new else ".venv-old"
        assert (root / ".venv" / "mark").read_text() == best
        assert start_swap.read_stamp("course", root / ".venv")
        # A finished one beside a finished one is left to be used or not by who knows what is wanted.
        assert (root / ".venv-new").exists() == bool(venv and new)
        assert not (root / ".venv-old").exists()
    assert not list(root.glob(".venv-rubbish*"))


@pytest.mark.parametrize("stop", range(1, 9))
def test_a_swap_that_is_killed_between_any_two_steps_is_finished_or_undone(root, monkeypatch, stop):
    lay(root, ".venv", mark="old")
    lay(root, ".venv-new", mark="new")
    steps, rename, replace = itertools.count(1), os.rename, Path.replace

    def killed(step):
        def may_be(*words, **more):
            if next(steps) == stop:
                raise KeyboardInterrupt
            return step(*words, **more)

        return may_be

    monkeypatch.setattr(start_swap.os, "rename", killed(rename))
    monkeypatch.setattr(start_swap.shutil, "rmtree", killed(start_swap.shutil.rmtree))
    monkeypatch.setattr(Path, "replace", killed(replace))
    with contextlib.suppress(KeyboardInterrupt):
        start_swap.swap_in(root)
    monkeypatch.undo()
    start_swap.recover(root)
    assert start_swap.read_stamp("course", root / ".venv")
    assert (root / ".venv" / "mark").read_text() in ("old", "new")


def test_a_folder_in_use_is_left_where_it_is(root, monkeypatch):
    """Windows renames no folder in which a file is open."""
    venv, new = lay(root, ".venv", mark="old"), lay(root, ".venv-new", mark="new")
    rename = start_swap.rename
    monkeypatch.setattr(start_swap, "rename", lambda path, place: path != venv and rename(path, place))
    assert not start_swap.swap_in(root)
    assert (venv / "mark").read_text() == "old" and new.exists()
    monkeypatch.setattr(start_swap, "rename", lambda path, place: path != new and rename(path, place))
    assert not start_swap.swap_in(root)
    assert (venv / "mark").read_text() == "old" and new.exists(), "the old one is put back"
    monkeypatch.setattr(start_swap, "rename", rename)
    assert start_swap.swap_in(root) and (venv / "mark").read_text() == "new"


def test_renaming_is_tried_again_while_a_scanner_holds_a_file(root, monkeypatch):
    folder, waits = lay(root, ".venv"), []
    rename, refusals = os.rename, iter([PermissionError(13, "Access is denied")] * 3)

    def held(*words):
        if error := next(refusals, None):
            raise error
        rename(*words)

    monkeypatch.setattr(start_swap.os, "rename", held)
    monkeypatch.setattr(start_swap.time, "sleep", waits.append)
    assert start_swap.rename(folder, root / ".venv-old", tries=20)
    assert waits == [0.5] * 3


def test_read_only_files_are_deleted_and_what_links_lead_to_is_not(root):
    folder = lay(root, ".venv-new", finished=False)
    outside = root / "outside"
    outside.write_text("mine")
    outside.chmod(0o400)
    if os.name != "nt":
        (folder / "link").symlink_to(outside)
    (folder / "mark").chmod(0o400)
    folder.chmod(0o500)
    start_swap.remove(folder)
    assert not list(root.glob(".venv*"))
    assert outside.read_text() == "mine" and outside.stat().st_mode & 0o777 == 0o400


def test_a_folder_that_cannot_be_taken_away_is_said(root, monkeypatch):
    folder = lay(root, ".venv-new", finished=False)
    monkeypatch.setattr(start_swap, "rename", lambda path, place: False)
    with pytest.raises(start_place.SetupProblem, match="restart the computer"):
        start_swap.remove(folder)


# --- what a learner did in the course's JupyterLab ---


def test_what_the_learner_did_goes_over(root):
    venv, new = lay(root, ".venv"), lay(root, ".venv-new")
    theme = venv / "share/jupyter/lab-user/settings/@jupyterlab/apputils-extension/themes.jupyterlab-settings"
    theme.parent.mkdir(parents=True)
    theme.write_text("dark")
    (venv / "share/jupyter/nbsignatures.db").write_text("signatures")
    (venv / "share/jupyter/runtime").mkdir()
    start_swap.carry_over(venv, new)
    assert (new / theme.relative_to(venv)).read_text() == "dark"
    assert (new / "share/jupyter/nbsignatures.db").read_text() == "signatures"
    assert not (new / "share/jupyter/runtime").exists()


def test_signatures_of_an_earlier_start_script_stay_behind(root):
    venv, new = lay(root, ".venv"), lay(root, ".venv-new")
    (venv / "share/jupyter").mkdir(parents=True)
    (venv / "share/jupyter/nbsignatures.db").write_text("signatures")
    (venv / "signed.json").write_text("{}")
    start_swap.carry_over(venv, new)
    assert not (new / "share/jupyter/nbsignatures.db").exists()


# --- scripts that know where they stand ---

BODY = "# -*- coding: utf-8 -*-\nimport sys\nprint('it runs', sys.argv[1])\n"


@pytest.mark.skipif(os.name == "nt", reason="scripts with a first line are of POSIX systems")
@pytest.mark.parametrize("was", ["old place", "old", "o" * 140])
@pytest.mark.parametrize("now", ["new place", "new", "n" * 140, "é"])
def test_scripts_run_in_their_new_place(tmp_path, was, now):
    """Whatever the two places need: a plain first line, or the shell's help for spaces and length."""
    venv = tmp_path / was / ".venv-new"
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(venv)], check=True)
    script = venv / "bin" / "tool"
    script.write_bytes(start_swap.first_lines(os.fsencode(venv / "bin/python")) + BODY.encode())
    script.chmod(0o755)
    assert subprocess.run([script, "a b"], capture_output=True, text=True).stdout == "it runs a b\n"
    (tmp_path / now).mkdir()
    place = venv.rename(tmp_path / now / ".venv")
    for _ in range(2):  # twice changes nothing more
        start_swap.relocate(place, venv, place)
        said = subprocess.run([place / "bin" / "tool", "a b"], capture_output=True, text=True)
        assert said.stdout == "it runs a b\n", said.stderr
    files = [path for path in (place / "bin").iterdir() if path.is_file()]
    assert not [path.name for path in files if os.fsencode(venv) in path.read_bytes()]


def test_only_this_place_is_rewritten():
    text = b"cd /course/.venv-old /course/.venv2 /course/.venv.d /course/.venv\n"
    mended = start_swap.relocated(text, "/course/.venv", "/moved/.venv")
    assert mended == b"cd /course/.venv-old /course/.venv2 /course/.venv.d /moved/.venv\n"


def test_programs_of_windows_are_rewritten_between_their_two_parts(monkeypatch):
    """pip's launcher there: a program, a first line, a zip file, which must stay readable."""
    was, now = r"C:\Users\Ann\course\.venv-new", r"C:\Users\Ann Lee\course\.venv"
    archive = BytesIO()
    with zipfile.ZipFile(archive, "w") as file:
        file.writestr("__main__.py", "print('it runs')")
    for quote in ("", '"'):
        program = (
            b"MZ\x90\x00 launcher" + f"#!{quote}{was}\\Scripts\\python.exe{quote}\r\n".encode() + archive.getvalue()
        )
        mended = start_swap.relocated(program, was, now)
        head, line, rest = mended.partition(f'#!"{now}\\Scripts\\python.exe"\r\n'.encode())
        assert head == b"MZ\x90\x00 launcher" and line and rest == archive.getvalue()
        assert zipfile.ZipFile(BytesIO(mended)).read("__main__.py") == b"print('it runs')"


def test_jetlib_is_found_wherever_the_course_lies(tmp_path):
    """By a line in plain ASCII that names no folder: the code page of a Windows cannot write every name."""
    assert start_pip.LINK.isascii()
    root = tmp_path / "Двор 湯"
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(root / ".venv-new")], check=True)
    for folder in start_pip.package_folders(root / ".venv-new"):
        (folder / "_jetlib.pth").write_text(start_pip.LINK, "ascii")
    (root / "jetlib").mkdir()
    (root / "jetlib" / "__init__.py").write_text("")
    place = (root / ".venv-new").rename(root / ".venv")
    moved = root.rename(tmp_path / "moved é")
    command = [start_place.python_in(moved / place.name), "-I", "-X", "utf8=0", "-c", "import jetlib"]
    assert subprocess.run(command, env={"LC_ALL": "C"}).returncode == 0
