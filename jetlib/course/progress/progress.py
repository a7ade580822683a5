"""A learner's progress: what was tried and predicted, kept in one small file on this machine.

It lies outside the course's folder: where JETLIB_HOME says, or in the platform's folder for user data. It is written
whole or not at all (a new file beside it, then one rename), under a lock, with the copy before it kept. Nothing here
raises because of the disk: if the file cannot be written, progress is held in memory, the reader is told once, and it
is saved with the next event that can be. Nothing leaves the machine; no name is asked for.
"""

import contextlib
import os
import secrets
from datetime import UTC, datetime
from functools import cache

from jetlib.course.banks import registry as bank
from jetlib.course.progress.export import write_export
from jetlib.course.progress.record import (
    MOST_BYTES,
    NAME,
    PREVIOUS,
    Attempt,
    Damaged,
    Guess,
    Newer,
    Record,
    checked,
    from_bytes,
    to_bytes,
)
from jetlib.course.store.locked_folder import LockedFolder, home
from jetlib.errors import JetlibError
from jetlib.tables.atomic import HALF, NotAPlainFile, Unwritable, read_plain, reason

_ASIDE = "progress.damaged-"


def current():
    """The Progress of this notebook, from the folder that JETLIB_HOME names now."""
    return _opened(home())


@cache
def _opened(folder):
    return Progress(folder)


class Progress(LockedFolder):
    """Progress in `folder`. `record` is what is known: read from disk, and what was done since."""

    def __init__(self, folder):
        super().__init__(folder)
        self._pending = []
        self._told_unwritable = False
        self._saved, self._notices = Record(), []
        self.refresh()

    @property
    def record(self):
        """The Record: what is saved, with what is waiting to be saved."""
        return self._saved.with_events(self._pending)

    @property
    def saved(self):
        """Whether all of it is on disk."""
        return not self._pending

    @property
    def path(self):
        """Where the file is, or would be."""
        return self.folder / NAME

    def take_notices(self):
        """Sentences that the reader has not been told yet. They are told once."""
        notices, self._notices = tuple(self._notices), []
        return notices

    def refresh(self):
        """Read what other notebooks have saved since."""
        try:
            try:
                self._saved, _ = self._read()
            except (Damaged, NotAPlainFile):
                with self._locked():
                    self._saved, _ = self._mended()
        except Unwritable as problem:
            self._tell(f"Your progress so far cannot be read: {problem}.")

    # --- what happens ---

    def attempt(self, exercise, seed, verdict):
        """Record what a reply was worth, if it was a try."""
        if verdict.attempted:
            self._add(Attempt(exercise, seed, verdict.status, verdict.mistake, _now(), _key()))

    def commit(self, prediction, value):
        """Record a prediction; it cannot be changed afterwards. Returns the Guess."""
        guess = Guess(prediction, list(value) if isinstance(value, tuple) else value, _now(), _key())
        self._add(guess)
        return guess

    def _add(self, event):
        self._pending.append(checked(event))
        try:
            with self._locked():
                self._append()
        except Unwritable as problem:
            self._tell(f"Your progress cannot be saved right now: {problem}.")

    def _tell(self, problem):
        """Say once that progress is held in memory only, until it has been saved again."""
        if not self._told_unwritable:
            self._told_unwritable = True
            self._notices.append(
                f"{problem} You can read on and practice; what you do is remembered as long as this notebook runs."
            )

    # --- what it adds up to ---

    def tally(self, lesson):
        """The Tally of a lesson that has a bank."""
        return self.record.tally(lesson, [exercise.id for exercise in bank.exercises(lesson)])

    def due(self):
        """The exercises to try again, those that went wrong: always the same for the same progress."""
        known = {exercise.id: exercise for exercise in bank.all_exercises()}
        return tuple(known[name] for name in self.record.due() if name in known)

    def to_revisit(self):
        """{skill: the due exercises that train it}, first what most of them train."""
        found = {}
        for exercise in self.due():
            for skill in exercise.skills:
                found.setdefault(skill, []).append(exercise)
        return dict(sorted(found.items(), key=lambda each: -len(each[1])))

    def warm_up(self, before="99", count=3):
        """Up to `count` due exercises of lessons `before` one, as far as there are any each of another skill."""
        skills, first, others = set(), [], []
        for exercise in self.due():
            if exercise.lesson < before:
                (others if exercise.skills[0] in skills else first).append(exercise)
                skills.add(exercise.skills[0])
        return tuple([*first, *others][:count])

    # --- out and away ---

    def export(self, path, label=""):
        """Write one file for the trainer, with a label of the learner's choice; its path. Raises JetlibError.

        What other notebooks have saved is read first, so that the whole day is in it.
        """
        self.refresh()
        return write_export(self.record, path, _now(), label)

    def delete(self):
        """Remove everything that is kept of this learner. Raises JetlibError if that cannot be done."""
        try:
            with self._locked():
                for name in os.listdir(self.folder):
                    if name in (NAME, PREVIOUS) or name.startswith((HALF, _ASIDE)):
                        self._remove(self.folder / name)
        except (Unwritable, OSError) as error:
            problem = error if isinstance(error, Unwritable) else reason(error)
            raise JetlibError(f"progress in {self.folder} is not deleted ({problem}); delete the folder") from None
        self._saved, self._pending, self._notices = Record(), [], []

    # --- the file; all of these raise Unwritable, and have then changed nothing ---

    def _read(self):
        """(Record, its bytes) of the file; (an empty one, None) where there is none. Raises Damaged, NotAPlainFile."""
        try:
            data = read_plain(self.folder / NAME, MOST_BYTES + 1)
            return from_bytes(data), data
        except (FileNotFoundError, NotADirectoryError):
            return Record(), None
        except Newer as error:
            raise Unwritable(f"the file is {error}. It is left as it is; update the course to go on with it") from None
        except OSError as error:
            raise Unwritable(reason(error)) from None

    def _append(self):
        """Add what is pending to what is on disk now. Under the lock."""
        record, before = self._mended()
        fuller = record.with_events(self._pending)
        if before is not None:
            self._write(PREVIOUS, before)
        self._write(NAME, to_bytes(fuller))
        self._saved, self._pending, self._told_unwritable = fuller, [], False
        if fuller.dropped > record.dropped:
            self._notices.append(
                "Your progress file was full: the oldest tries were dropped, and the latest of each was kept."
            )

    def _mended(self):
        """What `_read` gives. What cannot be used is set aside, and the copy before it taken or a new one begun, and
        the reader is told. Under the lock."""
        try:
            return self._read()  # another notebook may have mended it already
        except NotAPlainFile as problem:
            what = str(problem)
        except Damaged as problem:
            what = f"damaged ({problem})"
        aside = self._set_aside(NAME)
        said = f"Your progress file was {what}. It is kept as {aside} in {self.folder}; "
        try:
            record = from_bytes(read_plain(self.folder / PREVIOUS, MOST_BYTES + 1))
        except (Damaged, Newer, NotAPlainFile, OSError):
            self._notices.append(said + "a new one is started.")
            return Record(), None
        with contextlib.suppress(Unwritable):  # if it cannot be written now, it will be with the next event
            self._write(NAME, to_bytes(record))
        self._notices.append(said + "the copy from before the last change is used.")
        return record, None


def _now():
    """The time as text: UTC, to the second."""
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def _key():
    """What tells one event from another, however often it is saved."""
    return secrets.token_hex(6)
