"""Votes from the seats of a room: the trainer's page puts a question up in a folder, and each seat answers in its own.

`asked/question.json` there is the trainer's to write and everybody's to read. `seat07/vote.json` is written by that
seat, and read by it and by the trainer: the folders' rights see to that, and `tests/hub/room.py` sets them. What
stands in a file is data to check, whoever wrote it; a seat counts once.
"""

import contextlib
import json
import os
from collections import Counter
from dataclasses import asdict, dataclass
from pathlib import Path

from jetlib.course.classroom.vote import MOST_OPTIONS
from jetlib.errors import JetlibError
from jetlib.tables.atomic import read_plain, write_whole
from jetlib.units import SYSTEMS

ROOM = "/opt/jetting-room/votes"  # where a room lies unless its trainer has chosen another place
_ASKED, _VOTE = "asked/question.json", "vote.json"
_LONGEST, _MOST_BYTES, _MOST_SEATS = 2_000, 40_000, 100


@dataclass(frozen=True)
class AtSeats:
    """What the seats are asked: a key of its own, question and options by unit system, the votes counted so far."""

    key: str
    ask: dict
    options: dict
    counted: list

    def fits(self):
        texts = [*self.ask.values(), *(each for options in self.options.values() for each in options)]
        numbers = [len(options) for options in self.options.values()]
        return (
            set(self.ask) == set(self.options) == set(SYSTEMS)
            and all(isinstance(each, str) and len(each) <= _LONGEST for each in (self.key, *texts))
            and 2 <= min(numbers) == max(numbers) <= MOST_OPTIONS
            and all(_is_count(each, _MOST_SEATS) for each in self.counted)
        )


def votes_folder():
    """The folder of the room on this machine, JETLIB_VOTES or the usual one, as a Path; None where there is none."""
    folder = Path(os.environ.get("JETLIB_VOTES") or ROOM)
    return folder if (folder / _ASKED).parent.is_dir() else None


# --- the trainer's side ---


def put_up(folder, key, ask, options, counted=()):
    """Ask the seats: `ask` a text and `options` texts, by unit system. Raises Unwritable."""
    asked = AtSeats(key, dict(ask), {system: list(each) for system, each in options.items()}, list(counted))
    write_whole(Path(folder) / _ASKED, json.dumps(asdict(asked)).encode(), mode=0o644)


def take_down(folder):
    """Ask nothing any more. Raises Unwritable."""
    write_whole(Path(folder) / _ASKED, b"{}", mode=0o644)


def tally(folder, asked):
    """How many seats are for each option of what they are `asked` (an AtSeats), a tuple."""
    seats = sorted(Path(folder).glob(f"*/{_VOTE}"))[:_MOST_SEATS]
    chosen = Counter(_choice(path, asked.key) for path in seats)
    return tuple(chosen[at] for at in range(len(asked.options["US"])))


# --- both sides ---


def asked_of_seats(folder):
    """The AtSeats that is up in a room's folder; None for none, and for a file that is damaged."""
    with contextlib.suppress(OSError, ValueError, TypeError, AttributeError):
        found = AtSeats(**json.loads(read_plain(Path(folder) / _ASKED, _MOST_BYTES)))
        return found if found.fits() else None
    return None


# --- the seat's side ---


def own_vote():
    """The file of this seat's vote, JETLIB_VOTE_FILE, as a Path; None where there is no seat."""
    path = Path(os.environ.get("JETLIB_VOTE_FILE") or ".")
    return path if path.name == _VOTE and path.parent.is_dir() else None


def at_seat():
    """(what this seat is asked, an AtSeats or None; the place of its choice, or None)."""
    path = own_vote()
    asked = asked_of_seats(path.parent.parent) if path else None
    return asked, _choice(path, asked.key) if asked else None


def cast(key, choice):
    """Vote from this seat for an option, by its place. Raises JetlibError when nothing such is asked, Unwritable."""
    asked, _ = at_seat()
    if asked is None or asked.key != key:
        raise JetlibError("this question is over; wait for the next one")
    if not _is_count(choice, len(asked.options["US"]) - 1):
        raise JetlibError(f"there is no option {choice!r}; write one from 0 to {len(asked.options['US']) - 1}")
    write_whole(own_vote(), json.dumps({"key": key, "choice": choice}).encode(), mode=0o640)


def _choice(path, key):
    """The place that a file of a seat names for the question of that key; None for any other file."""
    with contextlib.suppress(OSError, ValueError, TypeError, KeyError, RecursionError):
        held = json.loads(read_plain(path, 200))
        if held["key"] == key and _is_count(held["choice"], MOST_OPTIONS):
            return held["choice"]
    return None


def _is_count(value, most):
    return isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= most
