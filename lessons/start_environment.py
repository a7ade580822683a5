"""Making the course's Python environment: the part of the set-up that `start.py` and `tests/run.py` share.

Standard library only. Everything it makes is in one folder, `.venv`, beside `lessons`.
A set-up that was interrupted is recognised, because its stamp is written last, and redone.
"""

import contextlib
import hashlib
import importlib.util
import json
import os
import queue
import re
import shutil
import subprocess
import sys
import threading
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SIZES = {"course": 400, "tests": 850}  # megabytes that the environment takes, about
LONGEST_WINDOWS_ROOT = 110  # characters: JupyterLab's own files reach 140 further, and Windows stops at 260
PACKAGES = 110  # about how many are fetched; only for the progress line
KEY_PACKAGES = ("jupyterlab", "ipywidgets", "numpy", "matplotlib", "pint", "jetlib")
# Settings of the learner's own that would reach into the environment. Proxies and certificates for pip stay.
UNWANTED = ("JUPYTER", "IPYTHON", "PYTHON", "PIP_USER", "PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "MPL", "__PYVENV")


class SetupProblem(Exception):
    """Set-up cannot go on. The message says what is wrong and what to do, in plain words."""


def say(*words):
    print(*words, flush=True)


# --- where things are, and whether they can be there ---


def venv_folder(root=ROOT):
    return Path(root) / ".venv"


def venv_python(root=ROOT):
    """Path of the environment's own Python, whether or not it is there yet."""
    return venv_folder(root) / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def course_requirements(root=ROOT):
    return [Path(root) / "requirements.txt"]


def environment(root=ROOT, base=None):
    """Environment variables for pip, Jupyter and kernels: a copy of `base` cut off from the learner's own set-up."""
    base = os.environ if base is None else base
    kept = {name: value for name, value in base.items() if not name.upper().startswith(UNWANTED)}
    venv, data = venv_folder(root), venv_folder(root) / "share" / "jupyter"
    return kept | {
        "VIRTUAL_ENV": str(venv),
        "PATH": str(venv_python(root).parent) + os.pathsep + kept.get("PATH", os.defpath),
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


def place_problem(root=ROOT, windows=os.name == "nt"):
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
    if windows and len(text) > LONGEST_WINDOWS_ROOT:
        return (
            f"The course lies too deep: {len(text)} characters of folder names, where {LONGEST_WINDOWS_ROOT} will do.\n"
            "Move the course's folder to a shorter place, such as Documents, and start again."
        )
    if venv_folder(root).is_symlink() or venv_folder(root).is_file():
        return f"{venv_folder(root)} should be a folder of the course's own. Remove it and start again."
    if not os.access(text, os.W_OK):
        return f"This folder cannot be written to:\n  {text}\nMove the course to a folder of your own and start again."
    return None


def space_problem(free, size=SIZES["course"]):
    """What to tell somebody with `free` bytes on the disk for `size` megabytes of packages; None if that will do."""
    needed = 1.6 * size  # while they are unpacked
    if free >= needed * 1e6:
        return None
    return f"The disk is too full: {free / 1e6:.0f} MB free, about {needed:.0f} MB needed. Make room first."


# What pip or venv says, and what that means to the reader. The first that matches wins.
EXPLANATIONS = (
    (
        r"No space left on device|Errno 28|not enough space on the disk|Disk quota exceeded",
        "The disk is full. Make room, one gigabyte at least, and start again.",
    ),
    (
        r"CERTIFICATE_VERIFY_FAILED|SSLError|SSLCertVerificationError",
        "The connection to the package index is not trusted. Check this computer's date and time. On a company or\n"
        "college network a filter may stand between: try another network, or ask whoever runs it.",
    ),
    (
        r"NewConnectionError|NameResolutionError|name resolution|getaddrinfo|ConnectTimeout|ReadTimeout|Read timed out"
        r"|Network is unreachable|ProxyError|Connection refused|Connection reset|ConnectionError|IncompleteRead"
        r"|ProtocolError",
        "No connection to the package index. Check that this computer is on the internet, then start again: what was\n"
        "fetched is kept. (Only the first start needs the internet.)",
    ),
    (
        r"WinError 206|File name too long|filename or extension is too long|Long Path",
        "A path became too long. Move the course's folder to a shorter place and start again.",
    ),
    (
        r"Permission denied|WinError 5\b|WinError 32|Access is denied|Read-only file system|Operation not permitted",
        "A file could not be written. Close other windows that run the course. If that does not help, move the course\n"
        "to a folder of your own (not a USB stick or network drive), delete its .venv folder and start again.",
    ),
    (
        r"from versions: none",
        "The package index offers none of what is needed. Most often the connection is at fault, or a filter between:\n"
        "try another network. If web pages open as usual, try a 64-bit Python 3.11, 3.12 or 3.13 (this is {python}).",
    ),
    (
        r"No matching distribution|metadata-generation-failed|Failed building wheel|Failed to build|Visual C\+\+"
        r"|requires a different Python",
        "There is no ready-made package for Python {python} on this computer ({bits}-bit).\n"
        "Use a 64-bit Python 3.11, 3.12 or 3.13.",
    ),
)


def explanation(log):
    """What a failed command's text means, in plain words; its own last lines if that is not known."""
    values = {
        "python": "{}.{}".format(*sys.version_info),
        "bits": 64 if sys.maxsize > 2**32 else 32,
    }
    for pattern, meaning in EXPLANATIONS:
        if re.search(pattern, log):
            return meaning.format(**values)
    return "It said:\n  " + "\n  ".join(log.strip().splitlines()[-8:])


# --- the stamp: what was installed, written last ---


def fingerprint(requirements, root=ROOT, python=None):
    """What an installation depends on, as a dictionary that is equal when nothing need be done."""
    digest = hashlib.sha256()
    for path in [*requirements, Path(root) / "jetlib" / "pyproject.toml"]:
        # Line ends differ between systems and mean nothing to pip.
        digest.update(path.read_bytes().replace(b"\r\n", b"\n") + b"\0")
    return {
        "python": "{}.{}".format(*(python or sys.version_info)),
        "system": sys.platform,
        "folder": str(Path(root).resolve()),  # an environment that was moved is broken
        "requirements": digest.hexdigest(),
    }


def stamp_file(name, root=ROOT):
    return venv_folder(root) / f"{name}-stamp.json"


def read_stamp(name, root=ROOT):
    """The stamp as a dictionary, empty if there is none or it cannot be read."""
    try:
        stamp = json.loads(stamp_file(name, root).read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) else {}


def write_stamp(name, stamp, root=ROOT):
    half = stamp_file(name, root).with_suffix(".half")
    half.write_text(json.dumps(stamp, indent=1), "utf-8")
    half.replace(stamp_file(name, root))


def remove_stamps(root=ROOT):
    """Forget what is installed. Done before anything changes, so that an interrupted set-up is seen as one."""
    for path in venv_folder(root).glob("*-stamp.json"):
        path.unlink()


def python_works(python):
    """Whether the environment's Python runs and sees the key packages."""
    test = f"import importlib.util as u, sys; sys.exit(any(u.find_spec(n) is None for n in {KEY_PACKAGES}))"
    try:
        return subprocess.run([str(python), "-I", "-c", test], stderr=subprocess.DEVNULL, timeout=120).returncode == 0
    except (OSError, subprocess.TimeoutExpired):
        return False


def state(name, wanted, root=ROOT, works=None):
    """What must be done before the set called `name` can be used: "nothing", "install" or "make" (afresh)."""
    # Every environment that was ever finished has the course's stamp: without it, it is half-made.
    course = read_stamp("course", root)
    if not course or any(course.get(key) != wanted[key] for key in ("python", "system", "folder")):
        return "make"
    if not venv_python(root).exists() or not (works or python_works)(venv_python(root)):
        return "make"
    return "nothing" if read_stamp(name, root) == wanted else "install"


# --- making the environment ---


class Progress:
    """One line on a terminal that is written over; elsewhere a line now and then."""

    def __init__(self, stream=None, width=None):
        self.stream = stream or sys.stdout
        self.live = self.stream.isatty()
        self.width = width or shutil.get_terminal_size().columns - 1
        self.began = time.monotonic()
        self.written = self.began - 100.0
        self.last = ""

    def _line(self, text):
        return f"  {text} ({time.monotonic() - self.began:.0f} s)"

    def show(self, text):
        if self.live:
            self.stream.write("\r" + self._line(text)[: self.width].ljust(self.width))
        elif text != self.last and time.monotonic() - self.written >= 10.0:
            self.stream.write(self._line(text) + "\n")
            self.written = time.monotonic()
        self.last = text
        self.stream.flush()

    def done(self, text):
        self.stream.write(("\r" + self._line(text).ljust(self.width) if self.live else self._line(text)) + "\n")
        self.stream.flush()


def pip_news(line, seen):
    """What a line of pip's output means to the reader, or None. `seen` counts packages between calls."""
    found = re.match(r"\s*(Collecting|Requirement already satisfied:|Obtaining) ([\w.-]*)", line)
    if found:
        seen.add(found.group(2))
        return f"Fetching packages: {len(seen)} of about {max(PACKAGES, len(seen))}"
    found = re.match(r"\s*Downloading (\S+?)-\d\S* \((.*)\)", line)
    if found:
        return f"Fetching packages: {len(seen)} of about {max(PACKAGES, len(seen))}, {found.group(1)} {found.group(2)}"
    if line.startswith("Installing collected packages:"):
        return f"Installing {line.count(',') + 1} packages"
    if re.search(r"Retrying|connection broken", line):
        return "The package index does not answer; trying again"
    return None


def run_logged(command, root, log, *, begin, end, news=lambda line: None):
    """Run a command, its output into the file `log`, showing what `news` makes of each line.

    Returns the exit code and the output.
    """
    process = subprocess.Popen(
        command,
        cwd=root,
        env=environment(root),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    )
    lines = queue.Queue()

    def pump():
        with process.stdout:
            for line in process.stdout:
                lines.put(line)
        lines.put(None)

    threading.Thread(target=pump, daemon=True).start()
    progress, text, output = Progress(), begin, []
    try:
        with open(log, "a", encoding="utf-8") as file:
            while True:
                with contextlib.suppress(queue.Empty):
                    line = lines.get(timeout=0.5)
                    if line is None:
                        break
                    output.append(line)
                    file.write(line)
                    text = news(line) or text
                progress.show(text)
        code = process.wait()
    except BaseException:
        process.terminate()
        process.wait()
        raise
    progress.done(end if code == 0 else f"{begin}: failed")
    return code, "".join(output)


def make_venv(root=ROOT):
    """Make an empty environment, over whatever was there."""
    if not all(importlib.util.find_spec(name) for name in ("venv", "ensurepip")):
        raise SetupProblem(
            "This Python lacks the part that makes environments. On Debian or Ubuntu:\n"
            "  sudo apt install python3-venv\n"
            "Without administrator rights, install a Python of your own (python.org) and start with that."
        )
    say("  Making an environment")
    # The base Python, in case this was started by the very Python that is to be replaced.
    base = getattr(sys, "_base_executable", None) or sys.executable
    command = [base, "-m", "venv", "--clear", str(venv_folder(root))]
    made = subprocess.run(command, capture_output=True, encoding="utf-8", errors="replace")
    if made.returncode:
        raise SetupProblem("The environment could not be made.\n" + explanation(made.stdout + made.stderr))


def install(requirements, root=ROOT):
    """Install the requirement files, in one go so that pip can settle them together, and try the packages."""
    log = venv_folder(root) / "setup-log.txt"
    # Not compiled now: that takes as long as the rest, and most of it is never used.
    pip = [str(venv_python(root)), "-m", "pip", "install", "--no-compile", "--prefer-binary", "--progress-bar=off"]
    for path in requirements:
        pip += ["-r", str(path)]
    seen = set()
    # From the root, because the requirement on ./jetlib counts from there.
    code, output = run_logged(
        pip, root, log, begin="Fetching packages", end="Packages installed", news=lambda line: pip_news(line, seen)
    )
    if code:
        raise SetupProblem(f"The packages could not be installed.\n{explanation(output)}\n(All of it: {log})")
    trial = [str(venv_python(root)), "-c", "import " + ", ".join(KEY_PACKAGES)]
    code, output = run_logged(trial, root, log, begin="Trying the packages", end="They work")
    if code:
        raise SetupProblem(f"The packages are installed but do not load.\n{explanation(output)}\n(All of it: {log})")


def try_lock(file):
    if os.name == "nt":
        import msvcrt

        file.seek(1 << 30)  # far past the end: others cannot read a byte that is locked
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
    else:
        import fcntl

        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


@contextlib.contextmanager
def alone(path=__file__, wait=900):
    """Hold a lock on this file for up to `wait` seconds' asking: two impatient starts must not mix their installs."""
    with open(path, "rb") as file:
        for second in range(wait):
            try:
                try_lock(file)
            except (BlockingIOError, PermissionError):
                if second == 0:
                    say("Another window is setting the course up. Waiting for it.")
                time.sleep(1.0)
            except OSError:
                break  # some network drives have no locks; go on without
            else:
                break
        yield


def ensure(requirements=None, name="course", root=ROOT, redo=False):
    """Make sure the environment holds `requirements`; returns the path of its Python. Quick if it already does."""
    if problem := place_problem(root):
        raise SetupProblem(problem)
    requirements = requirements or course_requirements(root)
    wanted = fingerprint(requirements, root)
    with alone():
        needed = "make" if redo else state(name, wanted, root)
        if needed == "nothing":
            return venv_python(root)
        existed = venv_folder(root).exists()
        try:
            remove_stamps(root)
            if needed == "install":
                say("Other packages are wanted than before: bringing the environment up to date.")
            else:
                say("Making the environment afresh." if existed else "First-time set-up.")
                size = SIZES[name]
                say(f"This takes one to five minutes and {size} MB, all in the folder .venv. It needs the internet.")
                if not existed and (problem := space_problem(shutil.disk_usage(root).free, size)):
                    raise SetupProblem(problem)
                make_venv(root)
            install(requirements, root)
            write_stamp("course", fingerprint(course_requirements(root), root), root)
            if name != "course":
                write_stamp(name, wanted, root)
        except OSError as error:
            raise SetupProblem(f"A file could not be read or written.\n{explanation(str(error))}") from error
        say("Set-up is complete.")
    return venv_python(root)
