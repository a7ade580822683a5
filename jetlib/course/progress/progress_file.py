"""The one small file that holds a learner's progress, and everything that can befall it.

It lies outside the course's folder: where JETLIB_HOME says, or in the platform's folder for user data. It is written
whole or not at all (a new file beside it, then one rename), under a lock, with the copy before it kept.
"""

import contextlib
import os
import stat
import warnings
from pathlib import Path

from filelock import FileLock, Timeout
from platformdirs import user_data_path

from jetlib.course.progress.record import MOST_BYTES, Damaged, Newer, Record, from_bytes, to_bytes
from jetlib.course.store.atomic import HALF, NotAPlainFile, Unwritable, read_plain, reason, write_whole

NAME = "progress.json"
PREVIOUS = "progress.previous.json"
LOCK = "progress.lock"
_ASIDE = "progress.damaged-"
_MOST_ASIDE = 9
_PATIENCE = 3.0  # seconds to wait for another notebook, which needs milliseconds


def chosen_home():
    """The folder that JETLIB_HOME names, as a Path; None if it names none."""
    chosen = os.environ.get("JETLIB_HOME", "").strip()
    if not chosen:
        return None
    with contextlib.suppress(RuntimeError):  # a ~ with no home behind it
        chosen = os.path.expanduser(chosen)
    return Path(os.path.abspath(chosen))


def home():
    """The folder of the progress file, as a Path. It need not exist yet."""
    return chosen_home() or user_data_path("jetlib", appauthor=False)


class ProgressFile:
    """The file in `folder`. All raise Unwritable, and have then changed nothing."""

    def __init__(self, folder):
        self.folder = Path(folder)
        self.path = self.folder / NAME

    def load(self):
        """(Record, sentences for the reader). What is damaged is kept under another name first."""
        try:
            return self._read(self.path), []
        except (FileNotFoundError, NotADirectoryError):
            return Record(), []
        except Newer as error:
            raise Unwritable(_newer_words(error)) from None
        except (Damaged, NotAPlainFile):
            with self._locked():
                return self._mend()
        except OSError as error:
            raise Unwritable(reason(error)) from None

    def add(self, events):
        """Append events to what is on disk now. Returns (Record as saved, sentences for the reader)."""
        with self._locked():
            words = []
            try:
                before = self._bytes(self.path)
                record = from_bytes(before)
            except FileNotFoundError:
                before, record = None, Record()
            except Newer as error:
                raise Unwritable(_newer_words(error)) from None
            except (Damaged, NotAPlainFile):
                record, words = self._mend()
                before = None
            except OSError as error:
                raise Unwritable(reason(error)) from None
            fuller = record.with_events(events)
            if fuller.dropped > record.dropped:
                words.append("Your progress file was full: the oldest tries were dropped, the latest of each kept.")
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

    def _read(self, path):
        return from_bytes(self._bytes(path))

    def _bytes(self, path):
        return read_plain(path, MOST_BYTES + 1)

    def _mend(self):
        """Set a file that cannot be used aside and go back to the copy before it, or start afresh. Under the lock."""
        try:
            return self._read(self.path), []  # another notebook has mended it already
        except FileNotFoundError:
            return Record(), []
        except Newer as error:
            raise Unwritable(_newer_words(error)) from None
        except OSError as error:
            raise Unwritable(reason(error)) from None
        except NotAPlainFile as problem:
            what = str(problem)
        except Damaged as problem:
            what = f"damaged ({problem})"
        aside = self._free_name()
        try:
            os.replace(self.path, aside)  # of a link this moves the link, not what it points to
        except OSError as error:
            raise Unwritable(reason(error)) from None
        words = f"Your progress file was {what}. It is kept as {aside.name} in {self.folder}; "
        try:
            record = self._read(self.folder / PREVIOUS)
        except (Damaged, Newer, NotAPlainFile, OSError):
            return Record(), [words + "a fresh one is begun."]
        with contextlib.suppress(Unwritable):  # if it cannot be written now, it will be with the next event
            self._write(NAME, to_bytes(record))
        return record, [words + "the copy from before the last change is used again."]

    def _free_name(self):
        names = [self.folder / f"{_ASIDE}{number}.json" for number in range(1, _MOST_ASIDE + 1)]
        return next((name for name in names if not os.path.lexists(name)), names[-1])

    # --- writing ---

    @contextlib.contextmanager
    def _locked(self):
        """The folder made, the lock held. Raises Unwritable, also for any failure of the disk inside."""
        lock = FileLock(self.folder / LOCK, timeout=_PATIENCE)
        try:
            os.makedirs(self.folder, mode=0o700, exist_ok=True)
            with warnings.catch_warnings():  # a disk without locks makes the library fall back to another kind
                warnings.simplefilter("ignore")
                lock.acquire()
        except Timeout:
            raise Unwritable("another notebook is busy with it") from None
        except (OSError, ValueError, NotImplementedError) as error:
            raise Unwritable(reason(error)) from None
        try:
            yield
        finally:
            with contextlib.suppress(OSError):
                lock.release()

    def _write(self, name, data):
        """Put a whole file in the place of the old one, or leave the old one as it is."""
        try:
            self._sweep()
        except OSError as error:
            raise Unwritable(reason(error)) from None
        write_whole(self.folder / name, data)

    def _sweep(self):
        """Half-written files of a notebook that was killed. Nobody else writes while we hold the lock."""
        for name in os.listdir(self.folder):
            if name.startswith(HALF):
                with contextlib.suppress(OSError):
                    os.unlink(self.folder / name)

    def _remove(self, path):
        with contextlib.suppress(FileNotFoundError):
            if stat.S_ISDIR(os.lstat(path).st_mode):
                return  # not ours to empty
            os.unlink(path)


def _newer_words(error):
    return f"the file is {error}. It is left as it is; bring the course up to date to go on with it"
