"""Links, pipes and folders of other people, laid in the way of a program that runs as root.

What must hold is CWE-59 (link following) and CWE-367 (looked at, then swapped) of the Common Weakness Enumeration.
"""

import os
import sys
from pathlib import Path

import pytest

pytest.importorskip("pwd", reason="a room is served from Linux")
sys.path.insert(0, str(Path(__file__).parent))
from guarded_files import Folder, Unsafe, open_in_home, sweep

ME = (os.getuid(), os.getgid())
SOMEBODY = os.getuid() + 1
PARTS = (".local", "share", "jetlib", "progress.json")


@pytest.fixture
def home(tmp_path):
    place = tmp_path / "home"
    (place / ".local/share/jetlib").mkdir(parents=True)
    (place / Path(*PARTS)).write_text("mine")
    (tmp_path / "secret").write_text("secret")
    return place


def taken(home, uid=ME[0], most=100):
    handle = open_in_home(home, PARTS, uid, most)
    if handle is None:
        return None
    with open(handle) as file:
        return file.read()


def test_a_plain_file_in_plain_folders_is_read(home):
    assert taken(home) == "mine"
    (home / Path(*PARTS)).unlink()
    assert taken(home) is None


def test_no_link_is_followed_at_any_step(home, tmp_path):
    for step in range(1, len(PARTS) + 1):
        place = home / Path(*PARTS[:step])
        kept = place.rename(tmp_path / "kept")
        target = tmp_path / "secret" if step == len(PARTS) else kept
        place.symlink_to(target)
        with pytest.raises(Unsafe, match="plain"):
            taken(home)
        place.unlink()
        kept.rename(place)
    assert taken(home) == "mine"


def test_a_pipe_a_folder_and_too_much_are_refused_at_once(home):
    file = home / Path(*PARTS)
    with pytest.raises(Unsafe, match="4 bytes; 3 are"):
        taken(home, most=3)
    file.unlink()
    os.mkfifo(file)
    with pytest.raises(Unsafe, match="plain file"):
        taken(home)
    file.unlink()
    file.mkdir()
    with pytest.raises(Unsafe, match="plain file"):
        taken(home)


def test_what_belongs_to_another_account_is_refused(home):
    with pytest.raises(Unsafe, match="belongs to another"):
        taken(home, uid=SOMEBODY)


def test_a_missing_folder_is_made_for_the_trainer_alone(tmp_path):
    with Folder(tmp_path / "new/class", (), trainer=ME) as folder:
        path = Path(folder.write("seat01.json", b"one"))
        folder.write("seat01.json", b"two")
    assert path == tmp_path / "new/class/seat01.json"
    assert path.read_bytes() == b"two"
    assert path.stat().st_mode & 0o777 == 0o600
    assert path.parent.stat().st_mode & 0o777 == 0o700
    assert [each.name for each in path.parent.iterdir()] == ["seat01.json"]


def test_a_link_that_lies_in_the_files_place_is_replaced(tmp_path):
    (tmp_path / "victim").write_text("precious")
    (tmp_path / "seat01.json").symlink_to(tmp_path / "victim")
    with Folder(tmp_path, (), trainer=ME) as folder:
        folder.write("seat01.json", b"new")
    assert (tmp_path / "victim").read_text() == "precious"
    assert not (tmp_path / "seat01.json").is_symlink()


def test_no_folder_that_a_learner_owns_or_can_change_is_written_into(tmp_path):
    with pytest.raises(Unsafe, match="learners can change"):
        Folder(tmp_path, {ME[0]}, trainer=ME)
    with pytest.raises(Unsafe, match="learners can change"):
        Folder(tmp_path / "class/deep", {ME[0]}, trainer=ME)
    assert not (tmp_path / "class").exists()
    for mode, shared in ((0o777, ()), (0o770, (ME[1],))):
        place = tmp_path / f"open-{mode:o}"
        place.mkdir()
        place.chmod(mode)
        with pytest.raises(Unsafe, match="learners can change"):
            Folder(place / "class", (), shared, trainer=ME)
    # A link of the trainer's own is taken as where it leads.
    (tmp_path / "link").symlink_to(tmp_path / "open-777")
    with pytest.raises(Unsafe, match="open-777"):
        Folder(tmp_path / "link", (), trainer=ME)


def test_a_folder_of_an_account_that_has_gone_is_refused(tmp_path):
    if os.geteuid():
        pytest.skip("only root can give a folder away")
    os.chown(tmp_path, 59_998, 59_998)
    with pytest.raises(Unsafe, match="has gone"):
        Folder(tmp_path, ())


def test_what_an_account_left_is_swept_and_nothing_else(tmp_path):
    if os.geteuid():
        pytest.skip("only root can give a file away")
    gone, other = 59_997, 59_998
    kept = tmp_path / "precious"
    kept.write_text("")
    for name, uid in (("theirs", gone), ("not theirs", other)):
        (tmp_path / name).mkdir()
        os.chown(tmp_path / name, uid, uid)
    (tmp_path / "theirs/link").symlink_to(kept)
    (tmp_path / "link").symlink_to(kept)
    os.lchown(tmp_path / "link", gone, gone)
    (tmp_path / "shared").mkdir()
    (tmp_path / "shared").chmod(0o777)
    (tmp_path / "shared/note").write_text("")
    os.chown(tmp_path / "shared/note", gone, gone)
    deep = os.open(tmp_path / "theirs", os.O_RDONLY)
    for _ in range(1200):  # deeper than Python can go by itself
        os.mkdir("d", dir_fd=deep)
        below = os.open("d", os.O_RDONLY, dir_fd=deep)
        os.close(deep)
        deep = below
    os.close(deep)
    assert sweep(tmp_path, {gone}) == 3
    assert sorted(each.name for each in tmp_path.iterdir()) == ["not theirs", "precious", "shared"]
    assert not list((tmp_path / "shared").iterdir())
