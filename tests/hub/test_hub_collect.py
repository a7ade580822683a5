"""What learners lay in the way of `collect` and of the trainer's folder, and accounts that only look like a room's."""

import json
import os
import shutil
import subprocess
from pathlib import Path

import pytest

pytest.importorskip("pwd", reason="a room is served from Linux")

import grp
import pwd

from jetlib.course.classroom.class_progress import read_class
from jetlib.course.progress.progress import Progress


@pytest.fixture
def homes(room):
    """number -> (folder of the seat's progress, with some in it, uid); what was there comes back afterwards."""
    places = {}
    for number in range(1, 7):
        account = pwd.getpwnam(f"{room.name}{number:02}")
        place = Path(account.pw_dir, ".local/share/jetlib")
        if place.exists():
            place.rename(place.with_name("kept"))
        Progress(place).commit("05-gauge-with-more-hose", 1e7 + number)
        for path in (*reversed(place.relative_to(account.pw_dir).parents), *place.relative_to(account.pw_dir).parents):
            os.chown(Path(account.pw_dir, path), account.pw_uid, account.pw_gid)
        for path in (place, *place.iterdir()):
            os.chown(path, account.pw_uid, account.pw_gid)
        places[number] = place, account.pw_uid
    yield places
    for place, _ in places.values():
        shutil.rmtree(place) if not place.is_symlink() else place.unlink()
        if place.with_name("kept").exists():
            place.with_name("kept").rename(place)


def test_collect_takes_nothing_through_a_link_or_from_another_and_never_too_much(room, homes, tmp_path):
    secret = tmp_path / "secret.json"
    secret.write_bytes((homes[1][0] / "progress.json").read_bytes())
    secret.chmod(0o600)

    def instead(number, make):
        place, uid = homes[number]
        (place / "progress.json").unlink()
        make(place / "progress.json")
        os.lchown(place / "progress.json", uid, uid)

    instead(2, lambda path: path.symlink_to(secret))  # a file that only root can read
    instead(3, lambda path: path.write_bytes(b"[" + b"1," * 5_000_000 + b"1]"))
    instead(4, lambda path: os.mkfifo(path))
    shutil.rmtree(homes[5][0])
    homes[5][0].symlink_to(homes[6][0])  # a neighbor's folder
    said = room.script("collect", str(tmp_path / "class"))
    whole = read_class(tmp_path / "class")
    assert whole.skipped == ()
    assert {f"{room.name}{number:02}" for number in (1, 6)} <= {each.who for each in whole.members}
    assert not {f"{room.name}{number:02}" for number in (2, 3, 4, 5)} & {each.who for each in whole.members}
    assert said.count("left out") >= 4


def test_a_spoiled_file_gives_way_to_the_copy_before_it(room, homes, tmp_path):
    place, uid = homes[1]
    (place / "progress.json").rename(place / "progress.previous.json")
    (place / "progress.json").write_text("{")
    os.chown(place / "progress.json", uid, uid)
    room.script("collect", str(tmp_path / "class"))
    found = {each.who: each.record for each in read_class(tmp_path / "class").members}
    assert [each.value for each in found[f"{room.name}01"].guesses("05-gauge-with-more-hose")] == [1e7 + 1]


def test_collect_never_writes_where_a_learner_can_change_things(room, homes, tmp_path):
    precious = tmp_path / "precious"
    precious.write_text("precious")
    _, uid = homes[1]
    trap = Path(f"/tmp/{room.name}-class")
    trap.mkdir()
    try:
        for number in range(1, 13):
            (trap / f"{room.name}{number:02}.json").symlink_to(precious)
        os.chown(trap, uid, uid)
        for folder in (trap, trap / "deeper", Path(pwd.getpwuid(uid).pw_dir) / "class"):
            assert "can change" in room.refused("collect", str(folder))
            assert "can change" in room.refused("slips", str(folder))
        assert precious.read_text() == "precious"
        assert not (trap / "deeper").exists()
    finally:
        shutil.rmtree(trap)


def test_each_class_has_files_of_its_own(room, homes, tmp_path):
    ledger = room.folder / "private/ledger.json"
    held = json.loads(ledger.read_text())
    try:
        for since in ("2026-01-01_0800", "2026-01-02_0800"):
            ledger.write_text(json.dumps(held | {"since": since}))
            room.script("collect", str(tmp_path / "class"))
    finally:
        ledger.write_text(json.dumps(held))
    names = sorted(path.name for path in (tmp_path / "class").glob(f"*{room.name}01.json"))
    assert names == [f"2026-01-0{day}_0800_{room.name}01.json" for day in (1, 2)]
    assert all((tmp_path / "class" / name).stat().st_mode & 0o077 == 0 for name in names)


@pytest.fixture
def stranger(room):
    """An account with a group of its own and a home that hold something, made by somebody else."""
    name = f"x{room.name}"
    subprocess.run(["useradd", "--create-home", "--user-group", name], check=True)
    subprocess.run(["usermod", "--append", "--groups", name, name], check=True)
    Path(f"/home/{name}/precious").write_text("precious")
    yield name
    subprocess.run(["userdel", "--remove", name], check=True, stderr=subprocess.DEVNULL)


def another_room(room, folder, seats):
    """A room in another folder that takes these accounts for its seats, as far as a spoiled ledger goes."""
    (folder / "private").mkdir(parents=True)
    (folder / "private").chmod(0o700)
    held = json.loads((room.folder / "private/ledger.json").read_text())
    (folder / "private/ledger.json").write_text(json.dumps(held | {"mark": "room-00000000", "seats": seats}))
    (folder / "private/ledger.json").chmod(0o600)
    (folder / "private/ready").touch()
    (folder / ".venv/bin").mkdir(parents=True)
    (folder / ".venv/bin/python").symlink_to(room.folder / ".venv/bin/python")
    other = type(room)(folder, room.name)
    return other


def test_a_room_called_like_a_group_leaves_the_group_and_its_members_alone(room, stranger, tmp_path):
    folder = room.folder / stranger
    try:
        account = pwd.getpwnam(stranger)
        other = another_room(room, folder, {stranger: account.pw_uid, f"{room.name}01": 20_000})
        assert "left alone" in other.script("remove", "--yes")
        assert grp.getgrnam(stranger).gr_mem == [stranger]
        assert Path(account.pw_dir, "precious").read_text() == "precious"
        assert pwd.getpwnam(f"{room.name}01")
        # Neither does it take over seats of the other room, or what begins like another's name.
        assert "did not make" in other.refused("seats", "2", "--name", room.name)
        assert "keeps for others" in other.refused("seats", "2", "--name", stranger)
    finally:
        shutil.rmtree(folder)


def test_a_seat_that_was_made_anew_by_hand_is_left_alone(room, tmp_path):
    """In the ledger by name, and somebody else's by number."""
    name = f"{room.name}99"
    ledger = room.folder / "private/ledger.json"
    held = json.loads(ledger.read_text())
    subprocess.run(["useradd", "--create-home", name], check=True)
    try:
        folder = room.folder / "other"
        other = another_room(room, folder, {name: pwd.getpwnam(name).pw_uid + 1})
        assert name in other.script("remove", "--yes")
        assert Path(f"/home/{name}").is_dir()
        assert json.loads(ledger.read_text()) == held
        shutil.rmtree(folder)
    finally:
        subprocess.run(["userdel", "--remove", name], check=True, stderr=subprocess.DEVNULL)
