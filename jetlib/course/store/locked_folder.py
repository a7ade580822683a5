"""A folder of the learner's own, outside the course: every file in it is written whole, under one lock, by one writer.

It lies where JETLIB_HOME says, or in the platform's folder for user data. What cannot be read is set aside under a
number of its own, and what a later version of the course wrote is told apart from what is damaged, and left alone.
"""

import contextlib
import os
import stat
import warnings
from pathlib import Path

from filelock import FileLock, Timeout
from platformdirs import user_data_path

from jetlib.tables.atomic import HALF, Unwritable, reason, write_whole

LOCK = "progress.lock"
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


def copy_before(name):
    """The name under which the copy from before the last change of a file is kept."""
    return name.replace(".json", ".previous.json")


class LockedFolder:
    """What is kept in `folder`. All that write raise Unwritable, and have then changed nothing."""

    def __init__(self, folder=None):
        self.folder = Path(home() if folder is None else folder)

    def _set_aside(self, name):
        """Rename a file to the next free of its name with .damaged-1, .damaged-2 and so on; returns the new name.

        The first are never written over, since they may be the only good ones; the last number is, so that they do
        not pile up. Of a link this moves the link.
        """
        stem, ends = os.path.splitext(name)
        names = [f"{stem}.damaged-{number}{ends}" for number in range(1, _MOST_ASIDE + 1)]
        aside = next((each for each in names if not os.path.lexists(self.folder / each)), names[-1])
        try:
            os.replace(self.folder / name, self.folder / aside)
        except OSError as error:
            raise Unwritable(reason(error)) from None
        return aside

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
        """Put a whole file in the place of the old one, or leave the old one as it is.

        Half-written files of a notebook that was killed go: nobody else writes while we hold the lock.
        """
        try:
            halves = [each for each in os.listdir(self.folder) if each.startswith(HALF)]
        except OSError as error:
            raise Unwritable(reason(error)) from None
        for half in halves:
            with contextlib.suppress(OSError):
                os.unlink(self.folder / half)
        write_whole(self.folder / name, data)

    def _copied(self, name, copy):
        """Keep what a file holds under another name too: as a second name of it, which is as safe on the disk already
        and costs no flush, or written anew where the disk knows no second names. The file itself is never altered."""
        half = self.folder / f"{HALF}{copy}"
        try:
            os.link(self.folder / name, half, follow_symlinks=False)
            os.replace(half, self.folder / copy)
        except (OSError, NotImplementedError):
            self._write(copy, (self.folder / name).read_bytes())

    def _remove(self, path):
        with contextlib.suppress(FileNotFoundError):
            if stat.S_ISDIR(os.lstat(path).st_mode):
                return  # not ours to empty
            os.unlink(path)
