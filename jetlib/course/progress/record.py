"""What a learner has done: attempts and predictions, as plain events in order, and what they add up to.

No name stands in it. Events are counted (`n`) in the order in which they were saved, and are taken in that order:
a clock that was set back changes nothing. Read from a file it is checked field by field; nothing in it is run.
"""

import json
import re
from collections import Counter
from dataclasses import asdict, dataclass, fields, replace
from functools import cached_property, lru_cache

from jetlib.course.exercises.exercise import ATTEMPTS, ID
from jetlib.errors import JetlibError

NAME, PREVIOUS = "progress.json", "progress.previous.json"  # the file, and the copy from before the last change
SCHEMA = 1
MOST_EVENTS = 4000
MOST_BYTES = 4_000_000
REVIEWS = 2  # right answers in a row after a wrong one, until an exercise is no longer asked for again
_LONGEST = 80
_LARGEST = 2**53
_KEY = re.compile(r"[0-9a-f]{12}")


class Damaged(ValueError):
    """Not a record of this course."""


class Newer(ValueError):
    """A record of a later version of this course."""


@dataclass(frozen=True)
class Attempt:
    """A reply that counted: which exercise and variant, how it was judged and which mistake it showed."""

    exercise: str
    seed: int
    status: str
    mistake: str
    time: str
    key: str
    n: int = 0

    def fits(self):
        return (
            _is_id(self.exercise)
            and _is_count(self.seed)
            and self.status in ATTEMPTS
            and _is_text(self.mistake)
            and bool(self.mistake) == (self.status == "mistake")
        )


@dataclass(frozen=True)
class Guess:
    """A prediction that was committed: a number, a key or a list of numbers."""

    prediction: str
    value: object
    time: str
    key: str
    n: int = 0

    def fits(self):
        value = self.value
        points = isinstance(value, list) and 0 < len(value) <= 20 and all(_is_number(each) for each in value)
        return _is_id(self.prediction) and (_is_number(value) or _is_text(value) or points)


_KINDS = {"attempt": Attempt, "prediction": Guess}
_NAMES = {kind: name for name, kind in _KINDS.items()}
_FIELDS = {kind: {field.name for field in fields(kind)} for kind in _NAMES}


@dataclass(frozen=True)
class Tally:
    """How far the exercises of a lesson have got: `done`, `to_review` and in all."""

    lesson: str
    done: int
    to_review: int
    total: int


@dataclass(frozen=True)
class Record:
    """Events in order, and how many old ones were dropped to keep the file small."""

    events: tuple = ()
    dropped: int = 0

    @cached_property
    def attempts(self):
        return tuple(event for event in self.events if isinstance(event, Attempt))

    @cached_property
    def by_exercise(self):
        """id -> the attempts at that exercise, oldest first."""
        found = {}
        for event in self.attempts:
            found.setdefault(event.exercise, []).append(event)
        return found

    def tries(self, exercise):
        """The attempts at one exercise, oldest first."""
        return tuple(self.by_exercise.get(exercise, ()))

    def state(self, exercise):
        """ "not attempted", "done" (the last try was right) or "to review"."""
        tries = self.by_exercise.get(exercise)
        return "not attempted" if not tries else "done" if tries[-1].status == "right" else "to review"

    def once_right(self, exercise):
        """Whether any try at an exercise was right."""
        return any(event.status == "right" for event in self.by_exercise.get(exercise, ()))

    @cached_property
    def predicted(self):
        """Ids of the predictions that were locked."""
        return {event.prediction for event in self.events if isinstance(event, Guess)}

    def guesses(self, prediction):
        """The commitments to one prediction, the first one first."""
        return tuple(event for event in self.events if isinstance(event, Guess) and event.prediction == prediction)

    def next_seed(self, exercise):
        """The seed of a variant not tried yet, from 1 up."""
        return max((event.seed for event in self.tries(exercise)), default=0) % _LARGEST + 1

    def tally(self, lesson, exercises):
        """The Tally of a lesson that holds the exercises with these ids."""
        states = Counter(self.state(exercise) for exercise in exercises)
        return Tally(lesson, states["done"], states["to review"], len(exercises))

    def due(self):
        """Ids of the exercises to try again: those answered wrong and not right twice in a row since, a tuple.

        What was wrong last comes first; within that what lies longest back.
        """
        due = []
        for exercise, events in self.by_exercise.items():
            streak = 0
            for event in events:
                streak = streak + 1 if event.status == "right" else 0
            if streak < len(events) and streak < REVIEWS:
                due.append((streak, events[-1].n, exercise))
        return tuple(exercise for _, _, exercise in sorted(due))

    def mistakes(self, count=3):
        """(name, times) of the mistakes made most."""
        return tuple(Counter(event.mistake for event in self.attempts if event.mistake).most_common(count))

    def with_events(self, new):
        """A Record with `new` events at its end, numbered; those it holds already are left out.

        Beyond MOST_EVENTS the oldest go, but not the last try at an exercise, nor the last that was right.
        """
        held = {event.key for event in self.events}
        last = max((event.n for event in self.events), default=0)
        added = [event for event in new if event.key not in held]
        events = [*self.events, *(replace(event, n=last + at) for at, event in enumerate(added, start=1))]
        surplus = len(events) - MOST_EVENTS
        if surplus <= 0:
            return replace(self, events=tuple(events))
        latest = {_about(event): event.key for event in events}
        kept = []
        for event in events:
            if surplus > 0 and latest[_about(event)] != event.key:
                surplus -= 1
            else:
                kept.append(event)
        return Record(tuple(kept), self.dropped + len(events) - len(kept))


def _about(event):
    """What an event is about: of each such thing the latest is always kept, and the latest that was right."""
    if isinstance(event, Attempt):
        return ("attempt", event.exercise, event.status == "right")
    return ("prediction", event.prediction)


def to_bytes(record, **more):
    """The record as a JSON text, an event on a line."""
    head = {"schema": SCHEMA, "course": "drain-line jetting", "dropped": record.dropped, **more}
    lines = [json.dumps({"event": _NAMES[type(event)], **asdict(event)}, ensure_ascii=True) for event in record.events]
    text = json.dumps(head, ensure_ascii=True)[:-1] + ', "events": [\n' + ",\n".join(lines) + "\n]}\n"
    return text.encode("ascii")


def from_bytes(data):
    """The Record in a JSON text. Raises Damaged, or Newer for one of a later version."""
    return with_head(data)[0]


def with_head(data):
    """(Record, what stands above its events as a dict) of a JSON text; raises as `from_bytes`."""
    if len(data) > MOST_BYTES:
        raise Damaged(f"larger than {MOST_BYTES:,} bytes")
    try:
        held = json.loads(data.decode("utf-8-sig"), parse_constant=_no_constant)
    except (ValueError, RecursionError) as error:
        raise Damaged("not JSON" if not isinstance(error, Damaged) else str(error)) from None
    if not isinstance(held, dict) or not _is_count(held.get("schema")):
        raise Damaged("no schema number")
    if held["schema"] > SCHEMA:
        raise Newer(f"of version {held['schema']}; this course reads {SCHEMA}")
    events, dropped = held.get("events"), held.get("dropped")
    if held["schema"] != SCHEMA or not isinstance(events, list) or not _is_count(dropped):
        raise Damaged("no events")
    if len(events) > 2 * MOST_EVENTS:
        raise Damaged("too many events")
    read = tuple(_event(each) for each in events)
    if len({event.key for event in read}) != len(read):
        raise Damaged("one event twice")
    return Record(tuple(sorted(read, key=lambda event: event.n)), dropped), held


def _event(held):
    if not isinstance(held, dict):
        raise Damaged("an event that is none")
    name = held.pop("event", None)
    kind = _KINDS.get(name) if isinstance(name, str) else None
    if kind is None:
        raise Damaged("an event of no known kind")
    held.setdefault("n", 0)
    if held.keys() != _FIELDS[kind]:
        raise Damaged("an event with other fields")
    event = object.__new__(kind)
    event.__dict__.update(held)  # in one go: frozen fields one after the other take twice as long
    stamped = _is_text(event.time) and _is_count(event.n)
    if not (stamped and isinstance(event.key, str) and _KEY.fullmatch(event.key) and event.fits()):
        raise Damaged("an event with a strange value")
    return event


def _no_constant(name):
    raise Damaged(f"{name} for a number")


def _is_id(value):
    return isinstance(value, str) and len(value) <= _LONGEST and _reads_as_id(value)


@lru_cache(1000)  # an exercise comes up again and again
def _reads_as_id(text):
    return bool(ID.fullmatch(text))


def _is_text(value):
    return isinstance(value, str) and len(value) <= _LONGEST and value.isprintable()


def _is_count(value):
    return isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= _LARGEST


def _is_number(value):
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) <= 1e30


def checked(event):
    """The event, if it could be read back; JetlibError if not."""
    if not event.fits():
        raise JetlibError(f"{_NAMES[type(event)]} cannot be recorded: {str(event)[:200]}")
    return event
