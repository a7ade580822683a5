"""What the bench keeps on disk comes back as it was, whatever befalls the files."""

import json
import subprocess
import sys

import pytest

from jetlib.course.store.bench_store import MOST_SAVED, NOW, SAVED, BenchStore, fit_name, rig_path
from jetlib.course.store.locked_folder import copy_before
from jetlib.tables.atomic import Unwritable


@pytest.fixture
def store(tmp_path):
    return BenchStore(tmp_path / "home")


def anything(_):
    return True


def test_it_lies_where_the_progress_lies(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "mine"))
    BenchStore().keep({"a": 1})
    assert (tmp_path / "mine" / NOW).is_file()


def test_what_is_kept_comes_back_letter_by_letter(store):
    held = {"typed": ' 1/2 "in \u2103\n', "list": [1, 2.5, None, True], "empty": {}}
    assert store.now(anything) == (None, [])
    store.keep(held)
    assert store.now(anything) == (held, [])


@pytest.mark.parametrize("broken", [b"", b"{", b"[]", b"\xff\xfe", b"[" * 5000])
def test_a_damaged_file_is_kept_aside_and_the_copy_before_is_used(store, broken):
    store.keep({"n": 1})
    store.keep({"n": 2})
    (store.folder / NOW).write_bytes(broken)
    held, words = store.now(anything)
    assert held == {"n": 1}
    assert "copy from before" in words[0]
    assert (store.folder / "bench.damaged-1.json").read_bytes() == broken


def test_what_is_no_bench_is_not_used(store):
    store.keep({"n": 1})
    store.keep({"n": 2})
    assert store.now(lambda held: held["n"] == 1)[0] == {"n": 1}
    store.keep({"n": 3})
    (store.folder / copy_before(NOW)).unlink(missing_ok=True)
    held, words = store.now(lambda held: False)
    assert held is None
    assert "new bench" in words[0]


def test_a_damaged_file_never_takes_the_place_of_the_copy_before(store):
    store.keep({"n": 1})
    store.keep({"n": 2})
    (store.folder / NOW).write_bytes(b"rubbish")
    store.keep({"n": 3})
    assert json.loads((store.folder / copy_before(NOW)).read_bytes())["held"] == {"n": 1}


def test_what_a_later_version_wrote_is_told_apart_and_left_alone(store):
    newer = b'{"schema": 2, "held": {"n": 9}}'
    store.folder.mkdir(parents=True, exist_ok=True)
    for name in (NOW, SAVED):
        (store.folder / name).write_bytes(newer)
    held, (said,) = store.now(lambda _: True)
    assert held is None and "later version" in said and "damaged" not in said
    for write in (lambda: store.keep({"n": 1}), lambda: store.save("bench", "van", {"n": 1})):
        with pytest.raises(Unwritable, match="later version"):
            write()
    assert {(store.folder / name).read_bytes() for name in (NOW, SAVED)} == {newer}


def test_every_damaged_file_is_kept_and_the_first_is_never_written_over(store):
    store.keep({"n": 1})
    for number in range(1, 4):
        (store.folder / NOW).write_bytes(b"rubbish %d" % number)
        store.keep({"n": number})
    kept = [(store.folder / f"bench.damaged-{number}.json").read_bytes() for number in (1, 2, 3)]
    assert kept == [b"rubbish 1", b"rubbish 2", b"rubbish 3"]


def test_saved_ones_are_found_by_name_and_kind(store):
    store.save("bench", " Van 2 ", {"n": 1})
    store.save("readings", "Monday", {"gauge": "2000 psi"})
    store.save("bench", "Van 2", {"n": 2})
    assert store.saved("bench") == {"Van 2": {"n": 2}}
    assert store.saved("readings") == {"Monday": {"gauge": "2000 psi"}}
    store.remove("bench", "Van 2")
    store.remove("bench", "Van 2")
    assert store.saved("bench") == {}


def test_damaged_saves_go_back_to_the_copy_before(store):
    store.save("bench", "one", {"n": 1})
    store.save("bench", "two", {"n": 2})
    (store.folder / SAVED).write_bytes(b"rubbish")
    assert store.saved("bench") == {"one": {"n": 1}}


@pytest.mark.parametrize("name", ["", "   ", "a/b", "..\\x", "x" * 61, "tab\there"])
def test_a_bad_name_is_refused(store, name):
    with pytest.raises(ValueError, match="write a name"):
        fit_name(name)
    if {"/", "\\"} & set(name):  # what is saved under its name in a file may be called anything
        store.save("bench", name, {"a": 1})
        assert store.saved("bench") == {name: {"a": 1}}
        assert rig_path(store.folder, name).parent == store.folder / "rigs"
    else:
        with pytest.raises(ValueError, match="write a name"):
            store.save("bench", name, {})
    assert fit_name(" Øl & sand ") == "Øl & sand"


def test_there_is_an_end_to_saving(store):
    for number in range(MOST_SAVED):
        store.save("bench", f"n{number}", {})
    with pytest.raises(Unwritable, match="remove one"):
        store.save("readings", "one more", {})
    store.save("bench", "n0", {"again": True})
    assert store.saved("bench")["n0"] == {"again": True}


def test_a_folder_that_cannot_be_made_is_said(tmp_path):
    (tmp_path / "file").write_text("in the way")
    store = BenchStore(tmp_path / "file" / "home")
    with pytest.raises(Unwritable):
        store.keep({})
    assert store.now(anything) == (None, [])
    assert store.saved("bench") == {}


def test_something_too_large_changes_nothing(store):
    store.keep({"n": 1})
    with pytest.raises(Unwritable, match="larger"):
        store.keep({"n": "x" * 1_000_001})
    assert store.now(anything)[0] == {"n": 1}


SAVER = """
import sys
from jetlib.course.store.bench_store import BenchStore
store = BenchStore(sys.argv[1])
for number in range(int(sys.argv[2]), int(sys.argv[2]) + 8):
    store.save("bench", f"n{number}", {"n": number})
"""


def test_two_notebooks_saving_at_once_lose_nothing(tmp_path):
    savers = [subprocess.Popen([sys.executable, "-c", SAVER, str(tmp_path), str(start)]) for start in (0, 8, 16)]
    assert [saver.wait(60) for saver in savers] == [0, 0, 0]
    assert len(BenchStore(tmp_path).saved("bench")) == 24


def test_two_pages_on_one_store_the_second_is_told_and_neither_loses_its_bench(tmp_path):
    first, second = BenchStore(tmp_path), BenchStore(tmp_path)
    assert first.keep({"n": 1}) == []
    assert second.now(anything)[0] == {"n": 1}
    assert first.keep({"n": 2}) == []  # the second has written nothing yet
    (told,) = second.keep({"n": 3})
    assert "open in another window" in told and "another page" in told
    assert second.saved("bench") == {"another page": {"n": 2}}
    assert second.keep({"n": 4}) == []  # told once, until the other writes again
    assert first.keep({"n": 5}) != []
    assert first.saved("bench") == {"another page": {"n": 4}}
    assert BenchStore(tmp_path).now(anything)[0] == {"n": 5}


@pytest.mark.parametrize("links", [True, False])
def test_the_copy_before_is_kept_on_a_disk_with_second_names_and_on_one_without(store, monkeypatch, links):
    if not links:
        monkeypatch.setattr("os.link", lambda *_, **__: (_ for _ in ()).throw(OSError("no links here")))
    for n in range(4):
        store.keep({"n": n})
        if n:
            assert json.loads((store.folder / copy_before(NOW)).read_bytes())["held"] == {"n": n - 1}
    assert {path.name for path in store.folder.glob("*.json")} == {NOW, copy_before(NOW)}
