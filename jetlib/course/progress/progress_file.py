"""The one small file that holds a learner's progress, and everything that can befall it.

It lies outside the course's folder: where JETLIB_HOME says, or in the platform's folder for user data. It is written
whole or not at all (a new file beside it, then one rename), under a lock, with the copy before it kept.
"""

import contextlib
import os

from jetlib.course.progress.record import MOST_BYTES, Damaged, Newer, Record, from_bytes, to_bytes
from jetlib.course.store.locked_folder import LockedFolder
from jetlib.tables.atomic import HALF, NotAPlainFile, Unwritable, reason

NAME = "progress.json"
PREVIOUS = "progress.previous.json"
_ASIDE = "progress.damaged-"


class ProgressFile(LockedFolder):
    """The file in `folder`. All raise Unwritable, and have then changed nothing."""

    @property
    def path(self):
        return self.folder / NAME

    def load(self):
        """(Record, sentences for the reader). What is damaged is kept under another name first."""
        try:
            return self._read()[0], []
        except (Damaged, NotAPlainFile):
            with self._locked():
                return self._mended()[::2]

    def add(self, events):
        """Append events to what is on disk now. Returns (Record as saved, sentences for the reader)."""
        with self._locked():
            record, before, words = self._mended()
            fuller = record.with_events(events)
            if fuller.dropped > record.dropped:
                words.append(
                    "Your progress file was full: the oldest tries were dropped, and the latest of each was kept."
                )
            if before is not None:
                self._write(PREVIOUS, before)
            self._write(NAME, to_bytes(fuller))
            return fuller, words

    def delete(self):
        """Remove the file, the copy before it and all that was kept aside."""
        with self._locked():
            try:
                for name in os.listdir(self.folder):
                    if name in (NAME, PREVIOUS) or name.startswith((HALF, _ASIDE)):
                        self._remove(self.folder / name)
            except OSError as error:
                raise Unwritable(reason(error)) from None

    # --- reading ---

    def _read(self):
        """(Record, its bytes) of the file; (an empty one, None) where there is none. Raises Damaged, NotAPlainFile."""
        try:
            data = self._bytes(NAME, MOST_BYTES)
            return from_bytes(data), data
        except (FileNotFoundError, NotADirectoryError):
            return Record(), None
        except Newer as error:
            raise Unwritable(f"the file is {error}. It is left as it is; update the course to go on with it") from None
        except OSError as error:
            raise Unwritable(reason(error)) from None

    def _mended(self):
        """(Record, bytes of the file or None, sentences). A file that cannot be used is set aside, and the copy before
        it taken, or a new one begun. Under the lock."""
        try:
            return *self._read(), []  # another notebook may have mended it already
        except NotAPlainFile as problem:
            what = str(problem)
        except Damaged as problem:
            what = f"damaged ({problem})"
        aside = self._set_aside(NAME, _ASIDE)
        words = f"Your progress file was {what}. It is kept as {aside} in {self.folder}; "
        try:
            record = from_bytes(self._bytes(PREVIOUS, MOST_BYTES))
        except (Damaged, Newer, NotAPlainFile, OSError):
            return Record(), None, [words + "a new one is started."]
        with contextlib.suppress(Unwritable):  # if it cannot be written now, it will be with the next event
            self._write(NAME, to_bytes(record))
        return record, None, [words + "the copy from before the last change is used."]
