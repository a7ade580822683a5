"""Reading from homes and writing into folders as root, where somebody else may have laid a link in the way.

Every step of a path is opened by itself, from the folder before it, and never through a link. What was looked at is
then what is used: nobody can swap it in between. Standard library only.
"""

import contextlib
import os
import pwd
import secrets
import stat
import subprocess

_FOLDER = os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW | os.O_CLOEXEC
_READ = os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC
_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC


class Unsafe(Exception):
    """Why a file is not read or written, in words."""


def open_in_home(home, parts, uid, most):
    """A descriptor of the plain file at `parts` below a home, to read; None if there is no such file.

    Every folder on the way and the file must belong to `uid`, and the file hold at most `most` bytes. Raises Unsafe.
    """
    with contextlib.ExitStack() as opened:
        at = _held(opened, os.open(home, _FOLDER))
        try:
            for name in parts[:-1]:
                _of(at, uid)
                at = _held(opened, os.open(name, _FOLDER, dir_fd=at))
            _of(at, uid)
            file = os.open(parts[-1], _READ, dir_fd=at)
        except FileNotFoundError:
            return None
        except OSError as error:  # a link says ELOOP or ENOTDIR
            raise Unsafe(f"{'/'.join(parts)} is not a plain file in plain folders ({error.strerror})") from None
        try:
            found = os.fstat(file)
            if not stat.S_ISREG(found.st_mode) or found.st_uid != uid:
                raise Unsafe(f"{'/'.join(parts)} is not a plain file of this learner's own")
            if found.st_size > most:
                raise Unsafe(f"{'/'.join(parts)} holds {found.st_size:,} bytes; {most:,} are the most")
        except Unsafe:
            os.close(file)
            raise
        return file


def _held(opened, descriptor):
    opened.callback(os.close, descriptor)
    return descriptor


def _of(descriptor, uid):
    if os.fstat(descriptor).st_uid != uid:
        raise Unsafe("a folder on the way belongs to another account")


class Folder:
    """A folder to write into as root. No learner, and nobody who has gone, may own it or any folder above it.

    path: what is there already is taken as it really lies; what is missing is made, for the trainer alone.
    learners: their uids, which are their gids too. shared: gids of groups that learners are in. Raises Unsafe.
    """

    def __init__(self, path, learners, shared=(), trainer=None):
        self.path = os.path.realpath(os.path.abspath(os.path.expanduser(path)))
        self._learners, self._groups = set(learners), {*learners, *shared}
        self._trainer = trainer or (0, 0)
        self._at = self._walk()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        os.close(self._at)

    def _walk(self):
        at, seen = os.open("/", _FOLDER), "/"
        try:
            for name in self.path.strip("/").split("/"):
                self._refuse_learners(at, seen)
                new = False
                with contextlib.suppress(FileExistsError):
                    os.mkdir(name, 0o700, dir_fd=at)
                    new = True
                below = os.open(name, _FOLDER, dir_fd=at)
                os.close(at)
                at, seen = below, os.path.join(seen, name)
                if new:
                    os.fchown(at, *self._trainer)
            self._refuse_learners(at, seen)
        except OSError as error:
            os.close(at)
            raise Unsafe(f"{self.path}: {error.strerror} at {seen}; write another folder") from None
        except Unsafe:
            os.close(at)
            raise
        return at

    def _refuse_learners(self, at, path):
        found = os.fstat(at)
        anybody = found.st_mode & 0o002 and not found.st_mode & stat.S_ISVTX
        theirs = found.st_mode & 0o020 and found.st_gid in self._groups
        if found.st_uid in self._learners or anybody or theirs:
            raise Unsafe(f"learners can change {path}; write a folder that only you can change")
        with contextlib.suppress(KeyError):
            pwd.getpwuid(found.st_uid)
            return
        raise Unsafe(f"{path} belongs to an account that has gone; write a folder of your own")

    def write(self, name, data):
        """Put a whole file of `data` in the place of what is called `name`, readable by the trainer alone.

        A link of that name is replaced, never followed. Returns the file's path. Raises Unsafe.
        """
        half = f".half-{secrets.token_hex(6)}"
        try:
            with open(os.open(half, _NEW, 0o600, dir_fd=self._at), "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
                os.fchown(file.fileno(), *self._trainer)
            os.rename(half, name, src_dir_fd=self._at, dst_dir_fd=self._at)
        except OSError as error:
            with contextlib.suppress(OSError):
                os.unlink(half, dir_fd=self._at)
            raise Unsafe(f"{self.path}/{name}: not written ({error.strerror})") from None
        return os.path.join(self.path, name)


def sweep(folder, uids, depth=20):
    """Remove what accounts that have ended left in a folder that everybody may write into; how many things that were.

    Looks into other people's folders there that everybody can write into, and into no others; goes through no link.
    """
    try:
        at = os.open(folder, _FOLDER)
    except OSError:
        return 0
    try:
        return _swept(at, folder, uids, depth)
    finally:
        os.close(at)


def _swept(at, path, uids, depth):
    count = 0
    for name in os.listdir(at):
        with contextlib.suppress(OSError):
            found = os.stat(name, dir_fd=at, follow_symlinks=False)
            below = os.path.join(path, name)
            if found.st_uid in uids:
                clear(below)
                count += 1
            elif stat.S_ISDIR(found.st_mode) and found.st_mode & 0o002 and depth:
                count += sweep(below, uids, depth - 1)
    return count


def clear(path):
    """Remove a file, or a folder with all that is in it, however deep it is; nothing where there is nothing."""
    # rm keeps to what it looked at, goes through no link, and knows no deepest folder; Python's own has one.
    subprocess.run(["rm", "-rf", "--one-file-system", "--", path], stderr=subprocess.DEVNULL, check=False)
