"""Where the course can live, and what a failed command means in plain words."""

import pytest
import start_place


def test_good_place(root):
    assert start_place.place_problem(root) is None


def test_missing_parts_suggest_the_zip(tmp_path):
    assert "extract the whole zip" in start_place.place_problem(tmp_path)


def test_colon_in_the_path(root):
    odd = root.parent / "a:b"
    root.rename(odd)
    assert "colon" in start_place.place_problem(odd, windows=False)


def test_variable_in_the_path(root, monkeypatch):
    odd = root.parent / "cost $PRICE"
    root.rename(odd)
    monkeypatch.delenv("PRICE", raising=False)
    assert start_place.place_problem(odd) is None
    monkeypatch.setenv("PRICE", "9")
    assert "variable" in start_place.place_problem(odd)


def test_deep_folder_on_windows(root):
    deep = root / ("d" * 100)
    (deep / "jetlib").mkdir(parents=True)
    (deep / "requirements.txt").touch()
    (deep / "jetlib" / "pyproject.toml").touch()
    assert "shorter path" in start_place.place_problem(deep, windows=True)
    assert start_place.place_problem(deep, windows=False) is None


def test_venv_that_is_no_folder(root):
    (root / ".venv").touch()
    assert "Remove it" in start_place.place_problem(root)


def test_folder_that_cannot_be_written(root, monkeypatch):
    def refuse(path):
        raise PermissionError(13, "Access is denied", str(path))

    # As on Windows in a folder of somebody else's, whose rights say nothing, and on a stick that is locked.
    monkeypatch.setattr(start_place.Path, "mkdir", refuse)
    assert "cannot be written" in start_place.place_problem(root)


def test_full_disk():
    assert start_place.space_problem(5e9) is None
    assert start_place.space_problem(1e9, start_place.SIZES["course"]) is None
    assert "needed" in start_place.space_problem(1e9, start_place.SIZES["tests"])
    assert "300 MB free" in start_place.space_problem(300e6)


@pytest.mark.parametrize(
    ("log", "meaning"),
    [
        ("ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device", "disk is full"),
        ("OSError: [WinError 112] There is not enough space on the disk", "disk is full"),
        ("Failed to establish a new connection: [Errno -3] Temporary failure in name resolution", "on the internet"),
        (
            "WARNING: Retrying after connection broken by 'NewConnectionError'\n"
            "ERROR: No matching distribution found for jupyterlab~=4.4",
            "on the internet",
        ),
        ("SSLError(SSLCertVerificationError(1, '[SSL: CERTIFICATE_VERIFY_FAILED]'", "date and time"),
        (
            "ERROR: Could not find a version that satisfies the requirement hatchling (from versions: none)\n"
            "ERROR: No matching distribution found for hatchling",
            "another network",
        ),
        (
            "ERROR: Could not find a version that satisfies the requirement numpy>=2.0 (from versions: 1.21.6)\n"
            "ERROR: No matching distribution found for numpy>=2.0",
            "64-bit Python",
        ),
        ("OSError: [WinError 206] The filename or extension is too long", "shorter path"),
        ("PermissionError: [WinError 5] Access is denied: 'C:\\\\x.pyd'", "Close other windows"),
        ("something never seen before\nand its last line", "and its last line"),
    ],
)
def test_failures_are_explained(log, meaning):
    assert meaning in start_place.explanation(log)
