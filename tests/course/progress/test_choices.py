"""What a reader chose for the whole course, and their notes: kept, read back, damaged."""

import pytest

from jetlib.course.progress.choices import MOST_NOTES, choices, choose, keep_notes, notes
from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("JETLIB_UNITS", raising=False)
    return tmp_path / "home"


def test_nothing_is_chosen_at_first():
    assert choices() == {}


def test_what_is_chosen_is_kept():
    for system in SYSTEMS:
        assert choose(units=system)["units"] == system
    assert choose(text=1.3) == {"units": SYSTEMS[-1], "text": 1.3} == choices()


def test_a_room_has_a_default_until_a_learner_chooses(monkeypatch):
    monkeypatch.setenv("JETLIB_UNITS", "metric")
    assert choices() == {"units": "metric"}
    choose(units="US")
    assert choices() == {"units": "US"}


@pytest.mark.parametrize("bad", [{"units": "furlongs"}, {"text": 9}, {"text": True}, {"color": "red"}, {"units": []}])
def test_a_choice_that_does_not_exist_is_refused(bad):
    with pytest.raises(JetlibError, match="is no choice"):
        choose(**bad)
    assert choices() == {}


@pytest.mark.parametrize("damage", [b"", b"{", b"[]", b"\xff\xfe", b'{"units": 3, "text": "big"}'])
def test_damage_counts_as_not_chosen(home, damage):
    home.mkdir()
    (home / "choices.json").write_bytes(damage)
    assert choices() == {}
    assert choose(theme="dark") == {"theme": "dark"}


def test_notes_are_kept_as_they_were_typed():
    assert notes("bench") == ""
    keep_notes("bench", "Gauge 2400 psi at full.\n½ throttle: 900\n")
    assert notes("bench") == "Gauge 2400 psi at full.\n½ throttle: 900\n"


def test_notes_that_are_too_long_are_refused_and_lose_nothing():
    keep_notes("bench", "first")
    with pytest.raises(JetlibError, match="bytes long"):
        keep_notes("bench", "x" * (MOST_NOTES + 1))
    assert notes("bench") == "first"
