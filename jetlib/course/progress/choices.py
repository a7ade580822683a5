"""What a reader chose for the whole course, and the notes they took: small files that lie with the progress.

Choices: `units` ("US" or "metric"), `theme` ("light" or "dark"), `text` (size, 1 is normal). What is damaged counts as
not chosen. In a room the trainer's units stand in JETLIB_UNITS, until a learner chooses others.
"""

import contextlib
import json
import os

from jetlib.course.store.locked_folder import home
from jetlib.errors import JetlibError
from jetlib.tables.atomic import read_plain, write_whole

_GOOD = {
    "units": lambda value: value in ("US", "metric"),
    "theme": lambda value: value in ("light", "dark"),
    "text": lambda value: isinstance(value, int | float) and not isinstance(value, bool) and 0.8 <= value <= 2.0,
}
_MOST_CHOICES, MOST_NOTES = 2_000, 200_000  # bytes


def choices():
    """The reader's choices, a dict without those not made yet."""
    held = {"units": os.environ.get("JETLIB_UNITS")}
    with contextlib.suppress(OSError, ValueError):
        read = json.loads(read_plain(home() / "choices.json", _MOST_CHOICES))
        held |= read if isinstance(read, dict) else {}
    return {name: held[name] for name, good in _GOOD.items() if name in held and good(held[name])}


def choose(**changes):
    """Keep these choices; all of them. Raises JetlibError for one that does not exist, Unwritable."""
    for name, value in changes.items():
        if name not in _GOOD or not _GOOD[name](value):
            raise JetlibError(f"{name} = {value!r} is no choice; there are {', '.join(_GOOD)}")
    chosen = choices() | changes
    home().mkdir(parents=True, exist_ok=True, mode=0o700)
    write_whole(home() / "choices.json", json.dumps(chosen).encode())
    return chosen


def notes(stem):
    """The reader's notes on the page with this file stem, text."""
    with contextlib.suppress(OSError):
        return read_plain(_notes_file(stem), MOST_NOTES).decode("utf-8", "replace")
    return ""


def keep_notes(stem, words):
    """Keep notes on a page. Raises JetlibError when they are too long, Unwritable."""
    data = words.encode("utf-8", "replace")
    if len(data) > MOST_NOTES:
        raise JetlibError(
            f"the notes are {len(data)} bytes long; at most {MOST_NOTES} fit. Move some of them elsewhere"
        )
    _notes_file(stem).parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    write_whole(_notes_file(stem), data)


def _notes_file(stem):
    return home() / "notes" / f"{stem}.txt"
