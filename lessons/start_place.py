"""Where the course lies on this computer, whether it can live there, and what a failed command means in plain words.

Standard library only; the other start_*.py files build on this one.
"""

import contextlib
import os
import re
import shutil
import sys
import uuid
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
WINDOWS = os.name == "nt"
OLDEST = (3, 11)  # the Python that the course needs
SIZES = {"course": 400, "tests": 850}  # megabytes that the environment takes, about
# Characters: JupyterLab's own files reach 165 further while they are set up, and Windows stops before 260.
LONGEST_WINDOWS_ROOT = 90
KEY_PACKAGES = ("jupyterlab", "ipywidgets", "numpy", "matplotlib", "pint", "jetlib")
# Settings of the learner's own that would reach into the environment. Proxies and certificates stay.
UNWANTED = ("JUPYTER", "IPYTHON", "PYTHON", "PIP_USER", "PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "MPL", "__PYVENV")


class SetupProblem(Exception):
    """Set-up cannot go on. The message says what is wrong and what to do, in plain words."""


def say(*words):
    print(*words, flush=True)


# --- where things are ---


def venv_folder(root=ROOT):
    return Path(root) / ".venv"


def python_in(venv, windows=WINDOWS):
    """Path of the Python in an environment, whether or not it is there yet."""
    return Path(venv) / ("Scripts/python.exe" if windows else "bin/python")


def venv_python(root=ROOT, windows=WINDOWS):
    return python_in(venv_folder(root), windows)


def base_python():
    """The Python outside the environment, in case this runs on the very one that is to be replaced."""
    return getattr(sys, "_base_executable", None) or sys.executable


def course_requirements(root=ROOT):
    return [Path(root) / "requirements.txt"]


def environment(root=ROOT, base=None, venv=None):
    """Environment variables for Jupyter and kernels: a copy of `base` cut off from the learner's own set-up."""
    base = os.environ if base is None else base
    kept = {name: value for name, value in base.items() if not name.upper().startswith(UNWANTED)}
    venv = Path(venv or venv_folder(root))
    data = venv / "share" / "jupyter"
    return kept | {
        "VIRTUAL_ENV": str(venv),
        "PATH": str(python_in(venv).parent) + os.pathsep + kept.get("PATH", os.defpath),
        "PYTHONUTF8": "1",
        "PYTHONNOUSERSITE": "1",
        "PIP_DISABLE_PIP_VERSION_CHECK": "1",
        "PIP_NO_INPUT": "1",
        "JUPYTER_CONFIG_DIR": str(venv / "etc" / "jupyter"),
        "JUPYTER_DATA_DIR": str(data),
        "JUPYTER_RUNTIME_DIR": str(data / "runtime"),
        "JUPYTERLAB_DIR": str(data / "lab"),
        "JUPYTERLAB_SETTINGS_DIR": str(data / "lab-user" / "settings"),
        "JUPYTERLAB_WORKSPACES_DIR": str(data / "lab-user" / "workspaces"),
        "IPYTHONDIR": str(venv / "share" / "ipython"),
        "MPLCONFIGDIR": str(venv / "share" / "matplotlib"),
    }


def write_whole(path, content):
    """Write bytes into a file that is never seen half-written. A file that may only be read is no obstacle."""
    half = path.with_name(path.name + ".half")
    half.write_bytes(content)
    if path.exists():
        with contextlib.suppress(OSError):
            path.chmod(path.stat().st_mode | 0o200)  # Windows replaces none that may only be read
            shutil.copymode(path, half)
    half.replace(path)


# --- whether they can be there ---


def can_be_written(folder):
    """Whether a folder can be made in `folder`. Tried, because Windows tells nothing by the rights it shows."""
    trial = Path(folder) / f".venv-trial-{uuid.uuid4().hex[:8]}"
    try:
        trial.mkdir()
    except OSError:
        return False
    with contextlib.suppress(OSError):  # a folder that is being synchronized may be held for a moment
        trial.rmdir()
    return True


def long_paths_are_allowed():
    """Whether this Windows was told to allow paths of any length, as some schools and firms do."""
    try:
        import winreg

        with winreg.OpenKey(winreg.HKEY_LOCAL_MACHINE, r"SYSTEM\CurrentControlSet\Control\FileSystem") as key:
            return winreg.QueryValueEx(key, "LongPathsEnabled")[0] == 1
    except (ImportError, OSError):
        return False


def place_problem(root=ROOT, windows=WINDOWS):
    """What is wrong with this folder as a home for the course; None if nothing is."""
    text = str(root)
    if not (Path(root) / "requirements.txt").is_file() or not (Path(root) / "jetlib" / "pyproject.toml").is_file():
        return (
            f"The rest of the course is not where it should be (looked in {text}).\n"
            "If it is still inside a zip file, extract the whole zip first and start from the extracted folder."
        )
    if not windows and ":" in text:
        return f"A Python environment cannot be made in a folder with a colon in its name. Rename it:\n  {text}"
    if os.path.expandvars(text) != text:
        return f"Jupyter would take part of this folder's name for a variable. Rename the folder:\n  {text}"
    if windows and len(text) > LONGEST_WINDOWS_ROOT and not long_paths_are_allowed():
        return (
            f"The folder's path is too long: {len(text)} characters; {LONGEST_WINDOWS_ROOT} is the limit.\n"
            "Move the course's folder to a shorter path, such as Documents, and start again."
        )
    if venv_folder(root).is_symlink() or venv_folder(root).is_file():
        return f"{venv_folder(root)} should be a folder of the course's own. Remove it and start again."
    if not can_be_written(root):
        return (
            f"This folder cannot be written to:\n  {text}\n"
            "Copy the course to a folder of your own, such as Documents, and start it there."
        )
    return None


def space_problem(free, size=SIZES["course"]):
    """What to tell somebody with `free` bytes on the disk for `size` megabytes of packages; None if that will do."""
    needed = 1.6 * size  # while they are unpacked
    if free >= needed * 1e6:
        return None
    return f"The disk is too full: {free / 1e6:.0f} MB free, about {needed:.0f} MB needed. Make room first."


# --- what a failed command means ---

# Kind, what pip or venv says, and what that means to the reader. The first that matches wins.
EXPLANATIONS = (
    (
        "disk",
        r"No space left on device|Errno 28|not enough space on the disk|Disk quota exceeded",
        "The disk is full. Make room, one gigabyte at least, and start again.",
    ),
    (
        "index",
        r"CERTIFICATE_VERIFY_FAILED|SSLError|SSLCertVerificationError",
        "The connection to the package index is not trusted. Check this computer's date and time. On a company or\n"
        "college network a filter may block it: try another network, or ask the person who runs it.",
    ),
    (
        "index",
        r"NewConnectionError|NameResolutionError|name resolution|getaddrinfo|ConnectTimeout|ReadTimeout|Read timed out"
        r"|Network is unreachable|ProxyError|Connection refused|Connection reset|ConnectionError|IncompleteRead"
        r"|ProtocolError",
        "No connection to the package index. Check that this computer is on the internet, then start again: what was\n"
        "downloaded is kept. (Only the first start needs the internet.)",
    ),
    (
        "path",
        r"WinError 206|File name too long|filename or extension is too long|Long Path",
        "A path became too long. Move the course's folder to a shorter path and start again.",
    ),
    (
        "rights",
        r"Permission denied|WinError 5\b|WinError 32|Access is denied|Read-only file system|Operation not permitted",
        "A file could not be written. Close other windows that run the course. If that does not help, move the course\n"
        "to a folder of your own (not a USB stick or network drive), delete its .venv folder and start again.",
    ),
    (
        "index",
        r"from versions: none",
        "The package index offers none of what is needed. Most often the connection is the problem, or a filter:\n"
        "try another network. If web pages open as usual, try a 64-bit Python {good} (this is {python}).",
    ),
    (
        "index",
        r"No matching distribution|metadata-generation-failed|Failed building wheel|Failed to build|Visual C\+\+"
        r"|requires a different Python|Could not find a version",
        "There is no ready-made package for Python {python} on this computer ({bits}-bit).\n"
        "Use a 64-bit Python {good}.",
    ),
)
FITTING_PYTHONS = "3.11, 3.12, 3.13 or 3.14"


def kind_of_failure(log):
    return next((kind for kind, pattern, _ in EXPLANATIONS if re.search(pattern, log)), None)


def explanation(log):
    """What a failed command's text means, in plain words; its own last lines if that is not known."""
    values = {
        "python": "{}.{}".format(*sys.version_info),
        "bits": 64 if sys.maxsize > 2**32 else 32,
        "good": FITTING_PYTHONS,
    }
    for _, pattern, meaning in EXPLANATIONS:
        if re.search(pattern, log):
            return meaning.format(**values)
    return "It said:\n  " + "\n  ".join(log.strip().splitlines()[-8:])
