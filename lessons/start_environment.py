"""Making sure of the course's Python environment: the part of the set-up that `start.py` and `tests/run.py` share.

Standard library only. The environment is the folder `.venv` beside `lessons`. A new one is made beside it, tried, and
only then put in its place: what worked before a set-up works after it, however that ends.
"""

import contextlib
import hashlib
import json
import re
import shutil
import sys
import time
import tomllib
from pathlib import Path

import start_pip
import start_swap
from start_place import (
    KEY_PACKAGES,
    ROOT,
    SIZES,
    WINDOWS,
    SetupProblem,
    course_requirements,
    environment,
    explanation,
    place_problem,
    say,
    space_problem,
    venv_folder,
    venv_python,
)
from start_server import running_server
from start_swap import read_stamp, write_stamp

__all__ = (
    "KEY_PACKAGES",
    "ROOT",
    "SIZES",
    "SetupProblem",
    "ensure",
    "environment",
    "say",
    "venv_folder",
    "venv_python",
)


# --- what an installation depends on ---


def meaningful_lines(text):
    """A requirements file's lines in order of the alphabet, without comments and blanks, which mean nothing to pip."""
    lines = re.sub(r"\\\r?\n", " ", text.lstrip("\ufeff")).splitlines()
    return sorted({" ".join(re.sub(r"(^|\s)#.*", "", line).split()) for line in lines} - {""})


def meaning(path):
    """What a requirements or project file says, so that two that say the same are equal."""
    text = path.read_bytes().decode("utf-8", errors="replace")
    if path.suffix == ".toml":
        with contextlib.suppress(tomllib.TOMLDecodeError):
            return tomllib.loads(text)
    return meaningful_lines(text)


def fingerprint(requirements, root=ROOT):
    """What an installation depends on, as a dictionary that is equal when nothing need be done.

    The Python that this runs on is no part of it: an environment keeps the one it was made with, while that works.
    """
    said = [meaning(path) for path in [*requirements, Path(root) / "jetlib" / "pyproject.toml"]]
    return {
        "system": sys.platform,
        "folder": str(Path(root).resolve()),
        "requirements": hashlib.sha256(json.dumps(said, sort_keys=True, default=str).encode()).hexdigest(),
    }


def state(name, wanted, root=ROOT, works=None):
    """What must be done before the set called `name` can be used: "nothing", "mend" (it was moved) or "make"."""
    stamp = read_stamp("course", venv_folder(root))  # every environment that was ever finished has it
    if stamp.get("system") != wanted["system"]:
        return "make"
    if stamp.get("folder") != wanted["folder"]:
        return "mend"
    if not venv_python(root).exists() or not (works or start_pip.python_works)(venv_python(root)):
        return "make"
    return "nothing" if read_stamp(name, venv_folder(root)) == wanted else "make"


# --- one at a time ---


def try_lock(file, windows=WINDOWS):
    """Lock a file for this program, or raise BlockingIOError or PermissionError where another has it."""
    if windows:
        import msvcrt

        file.seek(1 << 30)  # far past the end: others cannot read a byte that is locked
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
    else:
        import fcntl

        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


@contextlib.contextmanager
def alone(path=__file__):
    """Hold a lock on a file: two impatient starts must not mix. The system frees it when its holder dies."""
    with open(path, "rb") as file:
        waited = False
        while True:
            try:
                try_lock(file)
            except (BlockingIOError, PermissionError):
                if not waited:
                    say("Another window is starting the course. Waiting for it; Ctrl-C gives up.")
                waited = True
                time.sleep(0.5)
            except OSError:
                break  # some network drives have no locks; go on without
            else:
                break
        yield


# --- making sure ---


def ensure(requirements=None, name="course", root=ROOT, redo=False):
    """Make sure the environment holds `requirements`; returns the path of its Python. Quick if it already does.

    Nobody else can do the same meanwhile. SetupProblem if it cannot be done; for the course alone, what is there is
    used if it works.
    """
    with alone():
        return settle(requirements, name, root, redo)


def settle(requirements=None, name="course", root=ROOT, redo=False):
    """The same for who holds the lock."""
    if problem := place_problem(root):
        raise SetupProblem(problem)
    requirements = requirements or course_requirements(root)
    wanted = fingerprint(requirements, root)
    try:
        start_swap.recover(root)
        if not redo and quick_ways(name, wanted, root):
            return venv_python(root)
        if running_server(root):
            raise SetupProblem("The course is open in another window. Close it there (Ctrl-C), then start again.")
        make(requirements, name, wanted, root)
    except (SetupProblem, OSError) as problem:
        if isinstance(problem, OSError):
            problem = SetupProblem(f"A file could not be read or written.\n{explanation(str(problem))}")
        if name != "course" or not usable(root):
            raise problem from None
        say(f"\n{problem}\nThe course could not be updated. The version from before works, and is started.\n")
    return venv_python(root)


def quick_ways(name, wanted, root):
    """Whether the set called `name` can be used without making it: as it is, moved along with the course, or made by
    an earlier start that could not put it in its place."""
    new = start_swap.new_folder(root)
    if read_stamp(name, new) == wanted and not running_server(root):
        start_swap.swap_in(root)
    needed = state(name, wanted, root)
    if needed == "mend":
        start_swap.mend_after_move(read_stamp("course", venv_folder(root)), root)
        needed = state(name, wanted, root)
        if needed == "nothing":
            say("The course was moved, and its environment with it.")
    return needed == "nothing"


def usable(root):
    """Whether what is there runs the course, whatever it was made for."""
    venv = venv_folder(root)
    works = start_pip.python_works(venv_python(root))
    return works and (read_stamp("course", venv) or not start_pip.trial(root, venv, venv / "setup-log.txt"))


def make(requirements, name, wanted, root):
    """Make a new environment beside the old one, try it, and put it in its place."""
    venv, new = venv_folder(root), start_swap.new_folder(root)
    had = bool(read_stamp("course", venv))
    size = SIZES[name]
    say("Making the course's environment anew, beside the old one." if had else "First-time set-up.")
    say(f"This takes one to five minutes and {size} MB, all in the folder .venv. It needs the internet.")
    if problem := space_problem(shutil.disk_usage(root).free, size):
        raise SetupProblem(problem)
    start_swap.remove(new)
    try:
        start_pip.make_venv(new, root)
        start_pip.install(requirements, root, new)
        start_swap.carry_over(venv, new)
        if name != "course":
            write_stamp(name, wanted, new)
        write_stamp("course", fingerprint(course_requirements(root), root), new)  # the last: it says that all is done
    except BaseException:
        keep_log(new, venv)
        with contextlib.suppress(SetupProblem):
            start_swap.remove(new)
        raise
    if not start_swap.swap_in(root):
        raise SetupProblem(
            "The new environment is ready, but the old one is in use.\n"
            "Close other windows that run the course, then start again: it takes a second."
        )
    say("Set-up is complete.")


def keep_log(new, venv):
    """Save the story of a set-up that failed to where the README says it is."""
    with contextlib.suppress(OSError):
        venv.mkdir(exist_ok=True)
        shutil.copyfile(new / "setup-log.txt", venv / "setup-log.txt")
