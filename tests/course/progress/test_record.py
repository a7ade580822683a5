"""What a learner did, as events: what they add up to, and what is refused when read from a file."""

import json

import pytest

from jetlib.course.progress import record as records
from jetlib.course.progress.record import Attempt, Damaged, Guess, Newer, Record, from_bytes, to_bytes
from jetlib.errors import JetlibError

KEYS = (f"{number:012x}" for number in range(10**9))


def attempt(exercise, status="right", seed=1, time="2025-01-01T00:00:00Z"):
    return Attempt(exercise, seed, status, "bore" if status == "mistake" else "", time, next(KEYS))


def of(*events):
    return Record().with_events(events)


def test_the_last_try_decides():
    held = of(attempt("02-a", "wrong"), attempt("02-b"), attempt("02-a"), attempt("02-c", "mistake"))
    assert [held.state(name) for name in ("02-a", "02-b", "02-c", "02-d")] == [
        "done", "done", "to review", "not attempted",
    ]  # fmt: skip
    tally = held.tally("02", ["02-a", "02-b", "02-c", "02-d"])
    assert (tally.done, tally.to_review, tally.total) == (2, 1, 4)


def test_warm_up_takes_what_went_wrong_until_it_was_right_twice_since():
    held = of(
        attempt("02-old", "wrong"), attempt("02-mended", "wrong"), attempt("02-never"), attempt("02-new", "mistake"),
        attempt("02-mended"), attempt("02-once", "wrong"), attempt("02-once"), attempt("02-mended"),
    )  # fmt: skip
    assert held.due() == ("02-old", "02-new", "02-once")  # wrong last, oldest first; then what was right once
    again = held.with_events([attempt("02-mended", "wrong")])
    assert again.due() == ("02-old", "02-new", "02-mended", "02-once")


def test_a_clock_set_back_changes_nothing():
    forward = of(attempt("02-a", "wrong", time="2031-01-01T00:00:00Z"), attempt("02-a", time="1999-01-01T00:00:00Z"))
    assert forward.state("02-a") == "done"
    assert from_bytes(to_bytes(forward)).state("02-a") == "done"
    assert [event.n for event in forward.events] == [1, 2]


def test_the_next_variant_is_one_not_tried():
    assert of().next_seed("02-a") == 1
    assert of(attempt("02-a", seed=1), attempt("02-a", seed=7), attempt("02-b", seed=90)).next_seed("02-a") == 8


def test_the_same_event_is_held_once():
    event = attempt("02-a")
    assert len(of(event).with_events([event]).events) == 1


def test_beyond_the_limit_the_oldest_go_but_never_the_latest_of_anything(monkeypatch):
    monkeypatch.setattr(records, "MOST_EVENTS", 10)
    first = [
        attempt("02-only-once", "wrong"),
        Guess("02-o", "wider", "", next(KEYS)),
        Guess("02-p", 1.0, "", next(KEYS)),
    ]
    held = of(*first, *(attempt("02-many", seed=seed) for seed in range(20)))
    assert (len(held.events), held.dropped) == (10, 13)
    assert held.events[:3] == tuple(of(*first).events)
    assert [event.seed for event in held.tries("02-many")] == list(range(13, 20))
    assert held.state("02-only-once") == "to review"


def test_written_and_read_it_is_the_same():
    held = of(
        attempt("02-a", "mistake"), Guess("02-p", 1.9e7, "t", next(KEYS)), Guess("02-q", "wider", "t", next(KEYS)),
        Guess("02-r", [0.0, 1.5e6, 2e6, 3e6, 4e6], "t", next(KEYS)),
    )  # fmt: skip
    assert from_bytes(to_bytes(held)) == held
    assert [guess.value for guess in held.guesses("02-q")] == ["wider"]


def changed(**changes):
    """The bytes of a good file with something in it changed."""
    held = json.loads(to_bytes(of(attempt("02-a"))))
    event = changes.pop("event", None)
    held.update(changes)
    if event is not None:
        held["events"][0].update(event)
    return json.dumps(held).encode()


@pytest.mark.parametrize(
    "data",
    [
        b"", b"{", b"null", b"[]", b"\xff\xfe", b"{}", b'"x"', b"[" * 100_000, b"1" * 10_000,
        to_bytes(of(attempt("02-a")))[:-9],
        changed(schema=0), changed(schema=True), changed(schema="1"), changed(schema=1.0), changed(events={}),
        changed(events=[1]), changed(dropped=-1), changed(events=None),
        changed(event={"event": "shell"}), changed(event={"event": []}), changed(event={"exercise": "../etc/passwd"}),
        changed(event={"exercise": "02-" + "a" * 100}), changed(event={"seed": -1}), changed(event={"seed": 1e999}),
        changed(event={"seed": True}), changed(event={"status": "unit missing"}), changed(event={"mistake": "\x1b[0m"}),
        changed(event={"mistake": "named but right"}), changed(event={"extra": 1}), changed(event={"n": "1"}),
        changed(event={"key": "zz"}), changed(event={"time": 5}), changed(event={"time": "x" * 99}),
        b" " * (records.MOST_BYTES + 1),
    ],
)  # fmt: skip
def test_what_is_no_record_is_refused(data):
    with pytest.raises(Damaged):
        from_bytes(data)


def test_a_good_file_is_not_refused():
    assert len(from_bytes(changed()).events) == 1


def test_a_later_version_is_told_from_a_damaged_file():
    with pytest.raises(Newer):
        from_bytes(b'{"schema": 2, "whatever": []}')


@pytest.mark.parametrize("value", [float("nan"), float("inf"), None, {}, [], ["x"], True, "x" * 100, [1.0] * 99])
def test_a_prediction_that_could_not_be_read_back_is_not_taken(value):
    with pytest.raises(JetlibError, match="cannot be recorded"):
        records.checked(Guess("02-p", value, "", next(KEYS)))


def test_the_mistakes_made_most():
    held = of(*(attempt("02-a", "mistake") for _ in range(3)), attempt("02-b", "wrong"))
    assert held.mistakes() == (("bore", 3),)
