"""Which accounts, groups and folders a room takes for its own. Nothing here makes an account."""

import grp
import io
import json
import os
import pwd
import re
import sys
from dataclasses import replace
from pathlib import Path

import pytest

pytest.importorskip("pwd", reason="a room is served from Linux")
sys.path.insert(0, str(Path(__file__).parent))
import accounts
import collecting
import label
import room
from accounts import Ledger, Refusal

from jetlib.course.progress import record
from jetlib.course.progress.export import read_export
from jetlib.course.progress.progress import Progress

ROOT = pwd.getpwuid(0)


@pytest.fixture
def place(tmp_path):
    (tmp_path / "room/private").mkdir(parents=True)
    return tmp_path / "room"


def test_passwords_are_long_different_and_easy_to_read_from_paper():
    made = {accounts.new_password() for _ in range(200)}
    assert len(made) == 200
    assert all(re.fullmatch(f"([{accounts.LETTERS}]{{4}}-){{2}}[{accounts.LETTERS}]{{4}}", each) for each in made)
    assert not set("0o1il") & set(accounts.LETTERS)
    assert len(set(accounts.LETTERS)) ** 12 > 2**56


def test_the_ledger_comes_back_as_it_was_written(place):
    ledger = replace(Ledger.new(), seats={"seat01": 20_000}, next_number=20_001, since="2026-11-29_0800")
    assert Ledger.read(ledger.write(place) and place) == ledger
    assert Ledger.file(place).stat().st_mode & 0o777 == 0o600
    assert len({Ledger.new().mark for _ in range(50)}) == 50


@pytest.mark.parametrize("spoiled", ["", "[]", "{", '{"mark": "a", "extra": 1}'])
def test_a_ledger_that_others_could_have_written_or_that_is_spoiled_is_not_believed(place, spoiled):
    Ledger.new().write(place)
    Ledger.file(place).chmod(0o644)
    with pytest.raises(Refusal, match="not root's alone"):
        Ledger.read(place)
    Ledger.file(place).chmod(0o600)
    Ledger.file(place).write_text(spoiled)
    with pytest.raises(Refusal, match="cannot be read"):
        Ledger.read(place)
    Ledger.file(place).unlink()
    Ledger.file(place).symlink_to("/etc/passwd")
    with pytest.raises(Refusal, match="cannot be read"):
        Ledger.read(place)
    Ledger.file(place).unlink()
    with pytest.raises(Refusal, match="setup first"):
        Ledger.read(place)


def test_a_name_in_the_ledger_is_not_enough_to_be_a_seat():
    for account in (ROOT, pwd.getpwuid(os.getuid())):
        ledger = Ledger("room-1", {account.pw_name: account.pw_uid})
        assert ledger.own(account.pw_name) is None
        assert ledger.accounts() == {}
        with pytest.raises(Refusal, match="did not make"):
            accounts.refuse_strangers(ledger, [account.pw_name])


@pytest.mark.parametrize("change", [{}, {"pw_uid": 20_001}, {"pw_gecos": "course seat room-2"}, {"pw_dir": "/root"}])
def test_number_mark_and_home_must_all_be_right(monkeypatch, change):
    fields = dict.fromkeys(("pw_passwd", "pw_shell"), "") | {"pw_gid": 20_000}
    fields |= {"pw_name": "zz01", "pw_uid": 20_000, "pw_gecos": "course seat room-1,,,", "pw_dir": "/home/zz01"}
    fields |= change
    order = ("pw_name", "pw_passwd", "pw_uid", "pw_gid", "pw_gecos", "pw_dir", "pw_shell")
    account = pwd.struct_passwd([fields[name] for name in order])
    monkeypatch.setattr(accounts.pwd, "getpwnam", lambda name: account)
    assert bool(Ledger("room-1", {"zz01": 20_000}).own("zz01")) == (change == {})


@pytest.mark.parametrize("name", ["", "Seat", "seat1", "a b", "../x", "seat;", "averyverylongname", "-r"])
def test_what_is_no_name_is_refused(name):
    with pytest.raises(Refusal, match="is no name"):
        accounts.seat_names(name, 2)


def test_names_of_others_are_refused():
    plain = [each.gr_name for each in grp.getgrall() if re.fullmatch("[a-z]{1,12}", each.gr_name)]
    for name in {"root", "admin", "trainer", "www", *plain}:
        with pytest.raises(Refusal, match="keeps for others"):
            accounts.seat_names(name, 1)
    assert accounts.seat_names("seat", 12)[::11] == ["seat01", "seat12"]


def test_a_home_without_an_account_is_nobodys_to_take(monkeypatch, tmp_path):
    monkeypatch.setattr(accounts, "HOMES", str(tmp_path))
    accounts.refuse_strangers(Ledger.new(), ["zzseat01"])
    (tmp_path / "zzseat01").symlink_to("nowhere")
    with pytest.raises(Refusal, match="no account of this room"):
        accounts.refuse_strangers(Ledger.new(), ["zzseat01"])


def test_numbers_are_nobodys_and_never_given_twice():
    number = accounts.free_number(0)
    assert number >= accounts.FIRST
    for look in (pwd.getpwuid, grp.getgrgid):
        with pytest.raises(KeyError):
            look(number)
    assert accounts.free_number(accounts.LAST) == accounts.LAST
    with pytest.raises(Refusal, match="No number"):
        accounts.free_number(accounts.LAST + 1)


@pytest.mark.parametrize("folder", ["/", "/opt", "/usr", "/etc", "/home", "/root", "/usr/bin", "/tmp", "/proc/self"])
def test_no_folder_of_the_systems_is_taken_for_a_room(folder):
    before = sorted(os.listdir(folder))[:50] if os.access(folder, os.R_OK) else []
    with pytest.raises(Refusal):
        room.check_place(Path(folder).resolve())
    assert before in ([], sorted(os.listdir(folder))[:50])


def test_neither_the_course_itself_nor_what_lies_above_or_in_it_becomes_a_room():
    for folder in (room.SOURCE, room.SOURCE.parent, room.SOURCE / "lessons", room.SOURCE / "new"):
        with pytest.raises(Refusal, match="own files"):
            room.check_place(folder)


def test_a_folder_that_holds_something_else_is_left_alone(tmp_path, monkeypatch):
    monkeypatch.setattr(room, "SOURCE", tmp_path / "course")
    if os.geteuid():
        pytest.skip("a folder that root alone can change is needed")
    place = tmp_path / "place"
    room.check_place(place, source=tmp_path / "course")
    (place / "data").mkdir(parents=True)
    (place / "data/mine").write_text("precious")
    with pytest.raises(Refusal, match="no room that this made"):
        room.check_place(place, source=tmp_path / "course")
    (tmp_path / "place").chmod(0o777)
    with pytest.raises(Refusal, match="can change"):
        room.check_place(place / "room", source=tmp_path / "course")


def test_the_trainers_pages_stay_out_of_the_room(tmp_path):
    for name in room.COPIED:
        source = tmp_path / "course" / name
        if "." in name:
            source.write_text("")
            continue
        (source / "session_plans").mkdir(parents=True)
        for page in ("classroom.ipynb", "classroom.ipynb.gz", "01_pump.ipynb", "session_plans/day.toml"):
            (source / page).write_text("{}")
    room.copy_course(tmp_path / "room", tmp_path / "course")
    kept = {path.name for path in (tmp_path / "room").rglob("*")}
    assert "01_pump.ipynb" in kept
    assert not kept & {"classroom.ipynb", "classroom.ipynb.gz", "session_plans", "day.toml"}


def test_nothing_of_a_sign_in_stays(place):
    for name in ("hub.sqlite", "hub.sqlite-wal", "cookie_secret", "tls.key", "ledger.json"):
        (place / "private" / name).write_text("")
    room.forget_sign_ins(place)
    assert sorted(path.name for path in (place / "private").iterdir()) == ["ledger.json", "tls.key"]


def test_nothing_is_changed_while_the_course_is_served(place):
    with room.closed(place), pytest.raises(Refusal, match="being served"), room.closed(place):
        pass
    with room.closed(place):
        pass


def test_the_address_on_the_slips_is_that_of_the_door(place):
    ledger = replace(Ledger.new(), address="192.168.1.20", port=8000)
    assert room.url(place, ledger) == "http://192.168.1.20:8000/"
    (place / "private/tls.crt").write_text("")
    assert room.url(place, ledger) == "https://192.168.1.20:8000/"


def test_passwords_are_read_back_as_they_were_written(place):
    assert room.read_slips(place) == {}
    (place / "private/slips.txt").write_text("  seat01    aaaa-bbbb-cccc\n\n  seat02    dddd-eeee-ffff\n")
    assert room.read_slips(place) == {"seat01": "aaaa-bbbb-cccc", "seat02": "dddd-eeee-ffff"}


def test_progress_is_looked_for_where_the_course_keeps_it():
    assert collecting.FILES == (record.NAME, record.PREVIOUS)
    assert f'home / "{"/".join(collecting.PROGRESS)}"' in (Path(__file__).parent / "seat.py").read_text("utf-8")
    assert collecting.MOST > record.MOST_BYTES


def test_the_label_is_put_on_and_what_is_spoiled_is_refused(tmp_path, monkeypatch):
    progress = Progress(tmp_path)
    progress.commit("05-gauge-with-more-hose", 1e7)

    def labelled(data):
        given, told = (io.TextIOWrapper(io.BytesIO(each)) for each in (data, b""))
        monkeypatch.setattr(sys, "stdin", given)
        monkeypatch.setattr(sys, "stdout", told)
        code = label.main("seat07")
        monkeypatch.undo()
        return code, told.buffer.getvalue()

    code, data = labelled(progress.path.read_bytes())
    (tmp_path / "seat07.json").write_bytes(data)
    export = read_export(tmp_path / "seat07.json")
    assert (code, export.label, export.record) == (0, "seat07", progress.record)
    for spoiled in (b"", b"[]", b"\xff", json.dumps({"schema": 99}).encode(), b"[" * 100_000):
        assert labelled(spoiled) == (1, b"")
