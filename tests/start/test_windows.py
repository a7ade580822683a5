"""Branches for Windows and macOS, none of which has run there, each by simulation. DEVELOPERS.md lists them."""

import os
import subprocess
import sys
import sysconfig
import types
from pathlib import Path, PurePosixPath, PureWindowsPath

import platformdirs
import pytest
import start
import start_environment
import start_pages
import start_pip
import start_place
import start_server
from platformdirs import windows
from platformdirs.macos import MacOS

from jetlib.course.store import locked_folder
from jetlib.course.store.locked_folder import LockedFolder
from jetlib.paper.page import document as browser
from jetlib.screen.page import plain_errors
from jetlib.tables import atomic

ROOT = Path(__file__).parents[2]
FAKED = Path(__file__).with_name("faked.py")


def test_the_environments_python_has_another_place_there(root):
    assert start_place.venv_python(root, windows=True) == root / ".venv/Scripts/python.exe"
    assert start_place.venv_python(root, windows=False) == root / ".venv/bin/python"


def test_packages_are_found_in_either_layout(root):
    for venv, folder in ((root / "a", "Lib/site-packages"), (root / "b", "lib/python3.13/site-packages")):
        (venv / folder).mkdir(parents=True)
        assert start_pip.package_folders(venv) == [(venv / folder).resolve()]


def test_every_line_to_type_is_one_that_works_there():
    assert start_pages.command_line("--restore", "05", windows=True) == r"py lessons\start.py --restore 05"
    assert start.version_problem((3, 10), windows=True).endswith(r"py lessons\start.py")


def test_a_command_gets_a_group_of_its_own_there(monkeypatch):
    seen = {}
    monkeypatch.setattr(subprocess, "CREATE_NEW_PROCESS_GROUP", 512, raising=False)
    monkeypatch.setattr(start_pip.subprocess, "Popen", lambda command, **more: seen.update(more))
    start_pip.kept(["pip"], windows=True)
    assert seen["creationflags"] == 512 and "start_new_session" not in seen


@pytest.mark.parametrize("error", [None, PermissionError(13, "Permission denied")])
def test_the_lock_there_lies_past_the_end_of_the_file(tmp_path, monkeypatch, error):
    asked = []

    def locking(handle, mode, count):
        asked.append((os.lseek(handle, 0, os.SEEK_CUR), mode, count))
        if error:
            raise error

    monkeypatch.setitem(sys.modules, "msvcrt", types.SimpleNamespace(locking=locking, LK_NBLCK=2))
    file = tmp_path / "file"
    file.write_text("x")
    with open(file, "rb") as opened:
        if error:
            with pytest.raises(PermissionError):  # which is waited for, as a lock that another window holds
                start_environment.try_lock(opened, windows=True)
        else:
            start_environment.try_lock(opened, windows=True)
    assert asked == [(1 << 30, 2, 1)] and file.stat().st_size == 1


def test_a_taken_port_is_seen_without_the_word_that_shares_it_there(monkeypatch):
    with start_server.socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        assert not start_server.port_is_free(taken.getsockname()[1], windows=True)
    monkeypatch.setattr(start_server.socket.socket, "setsockopt", lambda *_: pytest.fail("it would share the port"))
    assert start_server.port_is_free(0, windows=True)


@pytest.mark.skipif(os.name == "nt", reason="simulated here, real there")
@pytest.mark.parametrize("code_page", ["cp1252", "cp850", "ascii"])
def test_a_window_that_cannot_show_a_folders_name_stops_nothing(course, code_page):
    place = course.rename(course.parent / "двор 湯 kitchen")
    # Python takes its words for the window in this code page, as it does there when they go into a file or a pipe.
    variables = {"FAKE_PIP": "works", "PYTHONIOENCODING": code_page, "PYTHONUTF8": "0"}
    command = [sys.executable, str(FAKED), str(place), "--check"]
    ran = subprocess.run(command, env={**os.environ, **variables}, capture_output=True, timeout=120)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert b"???? ? kitchen" in ran.stdout and b"All is ready." in ran.stdout


def test_the_files_it_writes_do_not_hang_on_the_code_page(course, tmp_path):
    """Every file is opened with its encoding named; -X warn_default_encoding makes Python complain of any other."""
    variables = {"FAKE_PIP": "works", "PYTHONWARNDEFAULTENCODING": "1", "PYTHONWARNINGS": "error::EncodingWarning"}
    command = [sys.executable, str(FAKED), str(course), "--check"]
    ran = subprocess.run(command, env={**os.environ, **variables}, capture_output=True, text=True, timeout=120)
    assert "EncodingWarning" not in ran.stdout + ran.stderr and ran.returncode == 0, ran.stdout + ran.stderr


def layout_of_windows(path):
    """A file's path in an environment as it would be there, from what it is here."""
    packages = Path(sysconfig.get_path("purelib")).relative_to(sys.prefix)
    text = str(PurePosixPath(path.relative_to(sys.prefix)))
    return PureWindowsPath(".venv-new", text.replace(str(packages), "Lib/site-packages", 1))


@pytest.mark.skipif(sys.prefix == sys.base_prefix, reason="measured in the course's own environment")
def test_the_longest_path_fits_where_the_course_may_lie():
    """Windows stops before 260 characters. The longest file of the packages, in the longest folder that is let in."""
    packages = Path(sysconfig.get_path("purelib"))
    names = (
        "jupyterlab",
        "jedi",
        "notebook_shim",
        "jupyter_server",
        "ipywidgets",
        "matplotlib",
        "nbconvert",
        "debugpy",
    )
    files = [path for name in names for path in (packages / name).rglob("*")]
    files += list((Path(sys.prefix) / "share").rglob("*"))
    longest = max(len(str(layout_of_windows(path))) for path in files)
    assert longest > 140, "the very long ones are seen"
    assert start_place.LONGEST_WINDOWS_ROOT + len("\\") + longest < 260


def test_a_windows_that_allows_long_paths_is_let_in(root, monkeypatch):
    class Key:
        def __enter__(self):
            return self

        def __exit__(self, *_):
            pass

    registry = types.SimpleNamespace(
        HKEY_LOCAL_MACHINE=0, OpenKey=lambda place, name: Key(), QueryValueEx=lambda key, name: (1, 4)
    )
    monkeypatch.setattr(start_place, "LONGEST_WINDOWS_ROOT", 5)
    assert "shorter path" in start_place.place_problem(root, windows=True)
    monkeypatch.setitem(sys.modules, "winreg", registry)
    assert start_place.place_problem(root, windows=True) is None
    registry.QueryValueEx = lambda key, name: (0, 4)
    assert "shorter path" in start_place.place_problem(root, windows=True)


def test_a_folder_held_by_onedrive_is_no_obstacle(root, monkeypatch):
    """The trial folder can be made, but is held for a moment when it is to go."""
    held = []

    def hold(path):
        held.append(path)
        raise PermissionError(32, "used by another process")

    monkeypatch.setattr(Path, "rmdir", hold)
    assert start_place.place_problem(root) is None
    monkeypatch.undo()
    assert held[0].parent == root and held[0].name.startswith(".venv-"), "as .gitignore knows it"
    start_environment.start_swap.sweep(root)
    assert not held[0].exists(), "gone at the next start"


def test_pages_that_may_only_be_read_are_no_obstacle(root):
    """As after a zip file was extracted, or in a synchronized folder."""
    for path in start_pages.course_notebooks(root):
        path.chmod(0o400)
    assert start_place.place_problem(root) is None
    assert start_pages.not_as_shipped(root) == ([], [], [])


def test_names_of_signals_that_are_missing_there_are_passed_over(monkeypatch):
    asked = []
    few = types.SimpleNamespace(SIGTERM=15, default_int_handler=None, signal=lambda number, _: asked.append(number))
    monkeypatch.setattr(start_server, "signal", few)
    start_server.stop_like_ctrl_c()
    assert asked == [15]


def test_a_reader_of_the_old_progress_file_is_waited_for(monkeypatch):
    """Windows replaces no file that somebody reads at that moment."""
    refusals, asked = iter([PermissionError(5, "Access is denied")] * 3), []

    def replace(half, path):
        asked.append(path)
        if error := next(refusals, None):
            raise error

    monkeypatch.setattr(atomic, "os", types.SimpleNamespace(name="nt", replace=replace))
    monkeypatch.setattr(atomic.time, "sleep", lambda seconds: None)
    atomic._rename("half", "progress.json")
    assert asked == ["progress.json"] * 4


def test_a_cells_error_names_the_line_to_type_there():
    assert plain_errors.start_command(windows=True) == start_pages.command_line(windows=True)
    assert plain_errors.start_command(windows=False) == start_pages.command_line(windows=False)


@pytest.mark.parametrize("system", [windows.Windows, MacOS])
def test_progress_has_a_folder_of_its_own_on_either(system, monkeypatch, tmp_path):
    monkeypatch.setenv("HOME", str(tmp_path))
    for name in ("LOCALAPPDATA", "APPDATA", "USERPROFILE"):
        monkeypatch.setenv(name, str(tmp_path))
    monkeypatch.setattr(windows, "get_win_folder", windows.get_win_folder_from_env_vars)  # there Windows is asked
    monkeypatch.setattr(platformdirs, "PlatformDirs", system)
    monkeypatch.delenv("JETLIB_HOME", raising=False)
    store = LockedFolder(locked_folder.home())
    assert store.folder == tmp_path / ("Library/Application Support/jetlib" if system is MacOS else "jetlib")


def test_files_are_read_without_the_flags_that_are_missing_there(monkeypatch, tmp_path):
    for name in ("O_NOFOLLOW", "O_NONBLOCK"):
        monkeypatch.delattr(os, name)
    (tmp_path / "kept").write_bytes(b"kept")
    assert atomic.read_plain(tmp_path / "kept", 9) == b"kept"
    with pytest.raises(atomic.NotAPlainFile):
        atomic.read_plain(tmp_path, 9)


def test_a_browser_is_asked_for_paper_by_who_has_no_number_there(monkeypatch, tmp_path):
    asked = []
    monkeypatch.setattr(browser.shutil, "which", lambda name: "chrome.exe" if name == "chrome" else None)
    monkeypatch.setattr(browser.subprocess, "run", lambda command, **_: asked.extend(command) or _wrote(tmp_path))
    monkeypatch.delattr(os, "geteuid")
    assert browser.print_pdf(tmp_path / "card.html", tmp_path / "card.pdf") == (tmp_path / "card.pdf").resolve()
    assert asked[0] == "chrome.exe" and "--no-sandbox" not in asked


def _wrote(folder):
    (folder / "card.pdf").write_bytes(b"%PDF")
    return types.SimpleNamespace(stderr="")


def test_branches_for_a_system_are_listed_for_contributors():
    """Each file with a branch by system is named in DEVELOPERS.md, where it says what has never run."""
    marks = ("os.name", "sys.platform", "WINDOWS", "msvcrt", "winreg", "platform.system", "platformdirs", "hasattr(os",
             "hasattr(signal", "getattr(os", "geteuid", "O_NOFOLLOW")  # fmt: skip
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    listed = text.split("### What has never run on Windows or macOS", 1)[1].split("\n#", 1)[0]
    files = [path for folder in ("lessons", "jetlib", "tests") for path in (ROOT / folder).rglob("*.py")]
    for path in files:
        if any(mark in path.read_text("utf-8") for mark in marks) and path != Path(__file__):
            name = path.relative_to(ROOT).as_posix()
            shown = name if not name.startswith("tests/") else "tests/"
            assert shown in listed, f"{name} has a branch by system that DEVELOPERS.md does not list"
