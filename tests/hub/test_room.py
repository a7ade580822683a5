"""What can be said of the room without serving one."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

pytest.importorskip("resource", reason="a room is served from Linux")
sys.path.insert(0, str(Path(__file__).parent))
import room
import seat

SCRIPT = Path(__file__).parent / "room.py"


def test_a_seat_is_laid_out_with_the_pages_and_nothing_else(tmp_path):
    pages = room.SOURCE / "lessons"
    copied = seat.lay_out(pages, tmp_path)
    assert {path.name for path in copied} == {path.name for path in pages.glob("*.ipynb")}
    assert {path.suffix for path in tmp_path.rglob("*") if path.is_file()} <= set(seat.PAGES)


def test_what_a_learner_wrote_stays_and_what_was_deleted_comes_back(tmp_path):
    source, home = tmp_path / "course", tmp_path / "home"
    source.mkdir()
    for name in ("a.ipynb", "b.ipynb"):
        (source / name).write_text("{}")
    seat.lay_out(source, home)
    (home / "a.ipynb").write_text("notes")
    (home / "b.ipynb").unlink()
    assert seat.lay_out(source, home) == [home / "b.ipynb"]
    assert (home / "a.ipynb").read_text() == "notes"


def test_nothing_is_written_through_a_link(tmp_path):
    source, home = tmp_path / "course", tmp_path / "home"
    source.mkdir()
    home.mkdir()
    (source / "a.ipynb").write_text("{}")
    (home / "a.ipynb").symlink_to(tmp_path / "elsewhere")
    assert seat.lay_out(source, home) == []
    assert not (tmp_path / "elsewhere").exists()


def test_a_file_in_a_closed_folder_is_not_readable_by_all(tmp_path):
    (tmp_path / "closed").mkdir(mode=0o700)
    (tmp_path / "closed" / "file").touch()
    assert not room.readable_by_all(tmp_path / "closed" / "file")
    assert room.readable_by_all("/etc/passwd")


@pytest.mark.parametrize("words", [["seats", "0"], ["seats", "100"], ["seats", "twelve"], ["dance"], []])
def test_what_makes_no_sense_is_refused(words):
    with pytest.raises(SystemExit):
        room.arguments(words)


def test_nothing_happens_before_there_is_a_room(tmp_path):
    done = subprocess.run(
        [sys.executable, str(SCRIPT), "--room", str(tmp_path / "nowhere"), "serve"],
        capture_output=True,
        encoding="utf-8",
    )
    assert done.returncode == 1
    assert "sudo" in done.stderr if os.geteuid() else "setup first" in done.stderr
    assert not (tmp_path / "nowhere").exists()


def test_a_setup_that_was_interrupted_is_noticed_until_one_ends(tmp_path, monkeypatch):
    """Both the first setup and one that is repeated over a room that was whole."""
    monkeypatch.setattr(room, "check_machine", lambda: None)
    monkeypatch.setattr(room, "check_place", lambda _: None)
    monkeypatch.setattr(room, "copy_course", lambda _: None)
    (tmp_path / "proxy/node_modules").mkdir(parents=True)
    python = room.python_of(tmp_path)
    python.parent.mkdir(parents=True)
    python.touch()
    chosen = room.arguments(["--room", str(tmp_path), "setup"])

    def interrupted(_):
        raise KeyboardInterrupt

    for _ in range(2):
        monkeypatch.setattr(room, "install", interrupted)
        with pytest.raises(KeyboardInterrupt):
            room.setup(chosen)
        with pytest.raises(room.Refusal, match="interrupted; run this with setup again"):
            room.check_set_up(tmp_path)
        room.check_set_up(tmp_path, only_to_collect=True)
        monkeypatch.setattr(room, "install", lambda _: None)
        room.setup(chosen)
        room.check_set_up(tmp_path)
