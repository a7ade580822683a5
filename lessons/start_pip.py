"""Making an environment and installing packages into it, with one line of progress, and nothing left running.

Standard library only. pip does not see the learner's own pip settings, apart from where packages come from and how
the network is reached.
"""

import ast
import contextlib
import importlib.util
import locale
import os
import queue
import re
import shutil
import subprocess
import sys
import threading
import time
from pathlib import Path

from start_place import (
    KEY_PACKAGES,
    OLDEST,
    ROOT,
    WINDOWS,
    SetupProblem,
    base_python,
    environment,
    explanation,
    kind_of_failure,
    python_in,
    say,
)

KEEPER = Path(__file__).resolve().with_name("start_keeper.py")
PACKAGES = 110  # about how many are fetched; only for the progress line
# What is kept of the learner's pip settings: where packages come from, and how the network is reached.
SOURCES = ("index-url", "extra-index-url", "find-links", "no-index", "trusted-host")
NETWORK = ("proxy", "cert", "client-cert", "keyring-provider", "cache-dir", "no-cache-dir", "trusted-host")
TIMEOUT = 30  # seconds without an answer; longer if the learner has set so
RETRIES = "3"  # with each, who has no network waits longer to hear of it
INDEXES = ("index-url", "extra-index-url", "no-index")  # with one of these, another try without it may do
# jetlib is found from the environment's own place, so that a course that was moved, or lies in a folder whose name
# the system's code page cannot write, finds it all the same.
LINK = "import os, sys; sys.path.append(os.path.dirname(os.path.abspath(sys.prefix)))\n"


# --- one command, watched ---


def kept(command, gently=False, windows=WINDOWS, **options):
    """Start a command that ends when its standard input is closed, or when this program dies in whatever way."""
    # In a group of its own, so that Ctrl-C reaches only this script, which then asks for an orderly stop.
    own = {"creationflags": subprocess.CREATE_NEW_PROCESS_GROUP} if windows else {"start_new_session": True}
    keeper = [base_python(), "-I", str(KEEPER), *(["--gently"] if gently else [])]
    return subprocess.Popen(keeper + [str(word) for word in command], stdin=subprocess.PIPE, **own, **options)


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
        return f"Downloading packages: {len(seen)} of about {max(PACKAGES, len(seen))}"
    found = re.match(r"\s*Downloading (\S+?)-\d\S* \((.*)\)", line)
    if found:
        count = f"{len(seen)} of about {max(PACKAGES, len(seen))}"
        return f"Downloading packages: {count}, {found.group(1)} {found.group(2)}"
    if line.startswith("Installing collected packages:"):
        return f"Installing {line.count(',') + 1} packages"
    if re.search(r"Retrying|connection broken", line):
        return "The package index does not answer; trying again"
    return None


def run_logged(command, root, log, *, begin, end, news=lambda line: None, env=None):
    """Run a command, its output into the file `log`, showing what `news` makes of each line.

    Returns the exit code and the output.
    """
    output_of = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT, "encoding": "utf-8", "errors": "replace"}
    process = kept(command, cwd=root, env=env or environment(root), **output_of)
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
    finally:
        with contextlib.suppress(OSError):
            process.stdin.close()  # ends it, and all that it started, if it still runs
        process.wait()
    progress.done(end if code == 0 else f"{begin}: failed")
    return code, "".join(output)


# --- the learner's pip settings ---


def pip_settings(venv, base=None):
    """What pip's settings files and variables say, by the names of pip's options, nearest first.

    Read by pip itself, which knows where they lie. Empty if it cannot read them.
    """
    # Settings may change what this very command shows; variables win over them.
    plain = {"PIP_USER": "0", "PIP_GLOBAL": "0", "PIP_SITE": "0", "PIP_QUIET": "0", "PIP_VERBOSE": "0"}
    env = {name: value for name, value in dict(os.environ if base is None else base).items() if name[:6] != "PYTHON"}
    command = [str(python_in(venv)), "-m", "pip", "config", "list"]
    pipes = {"stdin": subprocess.DEVNULL, "capture_output": True, "errors": "replace"}
    # In the system's own encoding, because that is how pip reads those files.
    pipes["encoding"] = locale.getencoding()
    shown = subprocess.run(command, env=env | plain, check=False, **pipes)
    if shown.returncode:
        say("  Your own pip settings cannot be read; going on without them.")
        return {}
    ours = {name[len("PIP_") :].lower() for name in plain}
    levels = {"global": {}, "install": {}, ":env:": {}}
    for line in shown.stdout.splitlines():
        found = re.match(r"(global|install|:env:)\.([\w-]+)=('.*'|\".*\")$", line)
        with contextlib.suppress(SyntaxError, ValueError):
            if found and not (found.group(1) == ":env:" and found.group(2) in ours):
                levels[found.group(1)][found.group(2)] = ast.literal_eval(found.group(3))
    return levels["global"] | levels["install"] | levels[":env:"]


def pip_environment(root, venv, settings, names=SOURCES + NETWORK):
    """Environment variables for pip in which the learner's settings are cut down to `names`."""
    env = {name: value for name, value in environment(root, venv=venv).items() if not name.upper().startswith("PIP_")}
    kept_settings = {name: settings[name] for name in names if settings.get(name, "").strip()}
    waits = [float(settings[name]) for name in ("timeout", "default-timeout") if is_number(settings.get(name, ""))]
    return env | {
        **{"PIP_" + name.upper().replace("-", "_"): value for name, value in kept_settings.items()},
        "PIP_DEFAULT_TIMEOUT": f"{max([TIMEOUT, *waits]):g}",
        "PIP_RETRIES": RETRIES,
        "PIP_CONFIG_FILE": os.devnull,  # by which pip understands that it must read no settings file
        "PIP_DISABLE_PIP_VERSION_CHECK": "1",
        "PIP_NO_INPUT": "1",
    }


def is_number(text):
    return re.fullmatch(r"\d+(\.\d*)?", text.strip()) is not None


# --- the environment ---


def make_venv(venv, root=ROOT):
    """Make an empty environment in the folder `venv`, which is not there yet."""
    if not all(importlib.util.find_spec(name) for name in ("venv", "ensurepip")):
        raise SetupProblem(
            "This Python lacks the part that makes environments. On Debian or Ubuntu:\n"
            "  sudo apt install python3-venv\n"
            "Without administrator rights, install a Python of your own (python.org) and start with that."
        )
    venv.mkdir()
    command = [base_python(), "-m", "venv", "--prompt", ".venv", venv]
    made = {"begin": "Making an environment", "end": "Environment made"}
    code, output = run_logged(command, root, venv / "setup-log.txt", env=environment(root, venv=venv), **made)
    if code:
        raise SetupProblem("The environment could not be made.\n" + explanation(output))


def install(requirements, root, venv):
    """Install the requirement files, in one go so that pip can settle them together, and try the packages."""
    log = venv / "setup-log.txt"
    # Not compiled now: that takes as long as the rest, and most of it is never used.
    pip = [python_in(venv), "-m", "pip", "install", "--no-compile", "--prefer-binary", "--progress-bar=off"]
    for path in requirements:
        pip += ["-r", path]
    settings = pip_settings(venv)
    output = fetch(pip, root, log, pip_environment(root, venv, settings))
    if output and kind_of_failure(output) in ("index", None) and any(settings.get(name) for name in INDEXES):
        say("  Your pip settings name another package index, which does not have what is needed. Trying pip's own.")
        output = fetch(pip, root, log, pip_environment(root, venv, settings, NETWORK))
    if output:
        raise SetupProblem(f"The packages could not be installed.\n{explanation(output)}")
    for folder in package_folders(venv):
        (folder / "_jetlib.pth").write_text(LINK, "ascii")
    if output := trial(root, venv, log):
        raise SetupProblem(f"The packages are installed but do not load.\n{explanation(output)}")


def package_folders(venv):
    """Where an environment's packages lie; Windows has another name for it."""
    folders = [*venv.glob("lib/python*/site-packages"), *venv.glob("Lib/site-packages")]
    return sorted({folder.resolve() for folder in folders})


def fetch(pip, root, log, env):
    """Run pip; returns what it said if it failed, else nothing."""
    seen = set()
    words = {"begin": "Downloading packages", "end": "Packages installed"}
    # From the root, because the requirement on ./jetlib counts from there.
    code, output = run_logged(pip, root, log, news=lambda line: pip_news(line, seen), env=env, **words)
    return output or "It ended without a message." if code else None


def trial(root, venv, log):
    """Load the packages of an environment; returns what was said if they do not load, else nothing."""
    command = [python_in(venv), "-c", "import " + ", ".join(KEY_PACKAGES)]
    words = {"begin": "Trying the packages", "end": "They work"}
    code, output = run_logged(command, root, log, env=environment(root, venv=venv), **words)
    return output or "It ended without a message." if code else None


def python_works(python):
    """Whether an environment's Python runs, is new enough and sees the key packages. Quick: it loads none."""
    missing = f"any(u.find_spec(name) is None for name in {KEY_PACKAGES})"
    test = f"import importlib.util as u, sys; sys.exit(sys.version_info < {OLDEST} or {missing})"
    try:
        return subprocess.run([str(python), "-I", "-c", test], stderr=subprocess.DEVNULL, timeout=120).returncode == 0
    except (OSError, subprocess.TimeoutExpired):
        return False
