"""What a room voted, kept in one CSV file a session: a row for each question, written whole at every change.

A vote in progress is a row like any other, so that a kernel that dies loses nothing. Rows of others stay as they are,
also when two notebooks write to one file.
"""

import contextlib
import csv
import io
import os
import secrets
from dataclasses import dataclass, replace
from pathlib import Path

from jetlib.course.classroom.vote import MOST_OPTIONS, gain, question, share_right
from jetlib.course.store.bench_store import fit_name
from jetlib.course.store.csv_out import csv_bytes
from jetlib.course.store.locked_folder import LockedFolder, home
from jetlib.errors import JetlibError
from jetlib.tables.atomic import NotAPlainFile, Unwritable, read_plain, write_whole

STAGES = ("first vote", "second vote", "answered")
MOST_VOTES = 500  # of one option: more than any hall that counts hands
_PREFIX = "votes_"
_WHERE = "votes_folder.txt"  # where the trainer keeps them
_LONGEST_PATH = 4000
_MOST_BYTES = 2_000_000
_MOST_FILES = 200
_NUMBERS = tuple(range(1, MOST_OPTIONS + 1))
COLUMNS = (
    "vote", "question", "title", "seed", "units", "stage", "people", "asked", "talked", "answered", "shown_anyway",
    *(f"option_{n}" for n in _NUMBERS), "right_option", *(f"first_{n}" for n in _NUMBERS),
    *(f"second_{n}" for n in _NUMBERS), "right_share_first", "right_share_second", "gain",
)  # fmt: skip


@dataclass(frozen=True)
class Vote:
    """One question to a room. first, second: hands for each option; second empty before the talk.

    stage: one of STAGES. people: in the room, 0 if not said. asked, talked, answered: times (UTC, ISO 8601) when the
    question was put up, the second vote begun, the answer shown. anyway: shown although nobody had voted.
    """

    question: str
    seed: int
    first: tuple
    second: tuple = ()
    stage: str = STAGES[0]
    people: int = 0
    asked: str = ""
    talked: str = ""
    answered: str = ""
    anyway: bool = False
    id: str = ""

    @property
    def now(self):
        """The tally that is being counted, or was last."""
        return self.second if self.second else self.first

    @property
    def votes(self):
        """How many have voted in it."""
        return sum(self.now)

    def counted(self, tally):
        """The same with `tally` as the count now. Raises JetlibError where there is nothing to count any more."""
        if self.stage == STAGES[2]:
            raise JetlibError("the answer has been shown; put the next question up to count again")
        tally = tuple(tally)
        if len(tally) != len(self.first) or not all(0 <= each <= MOST_VOTES for each in tally):
            raise JetlibError(f"a count is from 0 to {MOST_VOTES}; write a whole number")
        return replace(self, second=tally) if self.second else replace(self, first=tally)

    def talk(self, when):
        """On to the second vote. Raises JetlibError before anybody has voted, or when it has begun."""
        if self.stage != STAGES[0]:
            raise JetlibError("the second vote has begun already" if self.second else "the answer has been shown")
        if not sum(self.first):
            raise JetlibError("nobody has voted yet; count the first vote, then let them talk")
        return replace(self, stage=STAGES[1], second=(0,) * len(self.first), talked=when)

    def reveal(self, when, *, anyway=False):
        """With the answer shown. Raises JetlibError before anybody has voted, unless `anyway`."""
        if self.stage == STAGES[2]:
            return self
        if not sum(self.first) and not anyway:
            raise JetlibError("nobody has voted yet; count the hands first, or press Show it anyway")
        second = self.second if sum(self.second) else ()
        return replace(self, stage=STAGES[2], second=second, answered=when, anyway=not sum(self.first))

    def shares(self, right):
        """(share right in the first vote, in the second), each None where nobody voted."""
        return share_right(self.first, right), share_right(self.second, right) if self.second else None


def begun(name, seed, when, people=0):
    """A Vote on a question of the banks that nobody has answered yet."""
    count = question(name, seed).count
    return Vote(name, seed, (0,) * count, people=people, asked=when, id=secrets.token_hex(6))


class VoteFile(LockedFolder):
    """The file of one session. `name` is the trainer's, or a date; folder: by default that of the progress."""

    def __init__(self, name, folder=None):
        super().__init__(home() if folder is None else folder)
        self.name = fit_name(name)
        self.path = self.folder / f"{_PREFIX}{self.name.replace(' ', '_')}.csv"

    def rows(self):
        """The rows, each a dict of texts by column. Raises NotAPlainFile, OSError, ValueError for any other file."""
        data = read_plain(self.path, _MOST_BYTES + 1)
        if len(data) > _MOST_BYTES:
            raise NotAPlainFile("too large")
        reader = csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline=""), strict=True)
        try:
            if tuple(reader.fieldnames or ()) != COLUMNS:
                raise NotAPlainFile("not a file of votes")
            rows = list(reader)
        except csv.Error as error:
            raise NotAPlainFile(str(error)) from None
        if any(None in row or None in row.values() for row in rows):
            raise NotAPlainFile("a row is not whole")
        return rows

    def put(self, vote, system="US"):
        """Write a vote: its own row anew, all others as they are. Returns sentences for the reader.

        A file of that name that is none of ours is kept under another. Raises Unwritable, and has then changed nothing.
        """
        rows, said = [], []
        with self._locked():
            try:
                rows = self.rows()
            except (FileNotFoundError, NotADirectoryError):
                pass
            except (ValueError, OSError):
                aside = self._set_aside(self.path.name)
                said = [f"{self.path.name} could not be read. It is kept as {aside}; a fresh file is begun."]
            at = next((number for number, each in enumerate(rows) if each["vote"] == vote.id), len(rows))
            rows[at : at + 1] = [_row(vote, system)]
            cells = [[_cell(name, row[name]) for name in COLUMNS] for row in rows]
            write_whole(self.path, csv_bytes(COLUMNS, cells))
        return said

    def votes(self):
        """The votes in the file that this version can read, oldest first; empty where there is no such file."""
        try:
            rows = self.rows()
        except (ValueError, OSError):
            return ()
        return tuple(vote for vote in map(_vote, rows) if vote is not None)


def unfinished(folder=None):
    """(VoteFile, Vote) of the vote last left without an answer in the newest session, or None.

    folder: where to look; by default that of the progress, and the one that was last remembered.
    """
    folders = {home(), remembered()} - {None} if folder is None else {Path(folder)}
    for _, newest in sorted(pair for each in folders for pair in _sessions(each))[-1:]:
        with contextlib.suppress(ValueError):
            file = VoteFile(newest.name[len(_PREFIX) : -len(".csv")], newest.parent)
            votes = file.votes()
            if votes and votes[-1].stage != STAGES[2]:
                return file, votes[-1]
    return None


def remember(folder):
    """Keep in mind the folder a trainer has named, beside the progress; a disk that is full forgets it."""
    with contextlib.suppress(Unwritable, OSError):
        os.makedirs(home(), mode=0o700, exist_ok=True)
        write_whole(home() / _WHERE, str(folder).encode("utf-8", "surrogateescape"))


def remembered():
    """The folder that was last remembered, where there still is one; else None."""
    try:
        folder = Path(os.fsdecode(read_plain(home() / _WHERE, _LONGEST_PATH)))
        return folder if folder.is_absolute() and folder.is_dir() else None
    except (OSError, ValueError):
        return None


def _sessions(folder):
    """(when last written, path) of the sessions in a folder."""
    with contextlib.suppress(OSError):
        paths = [path for path in folder.glob(f"{_PREFIX}*.csv") if ".damaged" not in path.name][:_MOST_FILES]
        return [(path.lstat().st_mtime_ns, path) for path in paths]
    return []


# --- rows -------------------------------------------------------------------------------------------


def _cell(name, value):
    """A loss is a number and no formula, also where it was read as text."""
    with contextlib.suppress(ValueError):
        return float(value) if name == "gain" and value != "" else value
    return value


def _row(vote, system):
    asked = question(vote.question, vote.seed)
    first, second = vote.shares(asked.right)
    won = gain(first, second)
    row = dict.fromkeys(COLUMNS, "")
    row |= {
        "vote": vote.id, "question": vote.question, "title": asked.title, "seed": vote.seed, "units": system,
        "stage": vote.stage, "people": vote.people or "", "asked": vote.asked, "talked": vote.talked,
        "answered": vote.answered, "shown_anyway": "yes" if vote.anyway else "no", "right_option": asked.right + 1,
        "right_share_first": _share(first), "right_share_second": _share(second), "gain": _share(won),
    }  # fmt: skip
    for at, words in enumerate(asked.options(system)):
        row[f"option_{at + 1}"] = words
        row[f"first_{at + 1}"] = vote.first[at]
        row[f"second_{at + 1}"] = vote.second[at] if vote.second else ""
    return row


def _share(value):
    return "" if value is None else round(value, 4)


def _whole(words):
    """A whole number as it is written here: figures and nothing else. Raises ValueError."""
    if not (words.isascii() and words.isdigit() and len(words) < 16):
        raise ValueError(words)
    return int(words)


def _vote(row):
    """The Vote of a row, or None where it holds something that no vote of this version can be."""
    try:
        count = question(row["question"], _whole(row["seed"])).count
        first = tuple(_whole(row[f"first_{n}"]) for n in _NUMBERS[:count])
        second = tuple(row[f"second_{n}"] for n in _NUMBERS[:count])
        second = tuple(map(_whole, second)) if any(second) else ()
        people = _whole(row["people"] or "0")
        fits = row["stage"] in STAGES and row["vote"].isalnum() and 0 <= people <= MOST_VOTES
        fits = fits and all(0 <= each <= MOST_VOTES for each in (*first, *second))
        if not fits or (row["stage"] == STAGES[1]) > bool(second) or (row["stage"] == STAGES[0] and second):
            return None
        return Vote(
            row["question"], _whole(row["seed"]), first, second, row["stage"], people, row["asked"], row["talked"],
            row["answered"], row["shown_anyway"] == "yes", row["vote"],
        )  # fmt: skip
    except (JetlibError, ValueError, KeyError):
        return None
