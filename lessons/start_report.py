"""The file that a reader sends when the course does not start: what this computer and this folder are like.

It holds what `WHAT_IS_IN_IT` says, and nothing that tells who the reader is: see `scrubbed`. Nothing is sent by this
program. Standard library only; every part may fail by itself and then says so.
"""

import contextlib
import getpass
import importlib.util
import locale
import os
import platform
import re
import shutil
import socket
import subprocess
import sys
import time
import traceback
from pathlib import Path

from start_pages import not_as_shipped
from start_pip import pip_settings
from start_place import KEY_PACKAGES, ROOT, can_be_written, environment, place_problem, venv_folder, venv_python
from start_server import running_server
from start_swap import new_folder, old_folder, read_stamp

WHAT_IS_IN_IT = """\
This file is about a course that does not start. It holds: the kind of this computer and of its Python; whether the
course's folder can be written to, and how long its name is; which packages the course has; the last lines of its
setup; the last error; the names, not the contents, of settings that reach Python, pip or the network.
Your name, this computer's name, folders outside the course, and passwords and hosts in addresses are removed as far as
a program can recognize them. Read it before you send it: it is plain text, and you can delete what you like.
"""
NAMES = ("PIP_", "PYTHON", "JUPYTER", "IPYTHON", "CONDA", "VIRTUAL_ENV", "HTTP_PROXY", "HTTPS_PROXY", "ALL_PROXY",
         "NO_PROXY", "SSL_", "REQUESTS_CA_BUNDLE", "CURL_CA_BUNDLE", "LANG", "LC_", "TMP", "TEMP")  # fmt: skip
LOG_LINES = 60


def keep_traceback(root=ROOT):
    """Save the error that is being handled, for the report."""
    with contextlib.suppress(OSError):
        venv_folder(root).mkdir(exist_ok=True)
        (venv_folder(root) / "last-error.txt").write_text(traceback.format_exc(), "utf-8")


def scrubbed(text, root=ROOT, home=None, user=None, host=None):
    """A text without the reader's name, the computer's name, folders, and secrets and hosts in addresses."""
    text = re.sub(r"(?i)\b(https?|ftp|git\+\w+)://[^\s/'\"]+", r"\1://HOST", text)
    text = re.sub(r"(?i)((?:token|password|passwd|secret|api[_-]?key)\s*[=:]\s*)\S+", r"\1REMOVED", text)
    text = re.sub(r"[\w.+-]+@[\w-]+\.[\w.-]+", "ADDRESS", text)
    home = str(home or Path.home())
    names = [
        (str(root), "COURSE"),
        (home, "HOME"),
        (user or user_name(), "USER"),
        (host or socket.gethostname(), "HOST"),
    ]
    for name, word in names:
        # Windows writes the same folder with either slash, doubled in messages, and in either case.
        pattern = re.sub(r"(?:\\\\|/)", r"(?:\\\\\\\\|\\\\|/)", re.escape(name))
        if len(name) > 2 and name.lower() not in ("root", "localhost"):
            text = re.sub(rf"(?i)(?<![A-Za-z0-9]){pattern}(?![A-Za-z0-9])", word, text)
    return text


def user_name():
    try:
        return getpass.getuser()
    except Exception:  # no account has a name where none is set up, and each system says so in its own way
        return ""


def computer(root):
    yield "system", platform.platform()
    yield "processor", platform.machine()
    yield "code page", f"{locale.getencoding()}, window {getattr(sys.stdout, 'encoding', None)}"
    yield "inside a container or Linux in Windows", str("microsoft" in platform.release().lower())
    yield "free on the disk", f"{shutil.disk_usage(root).free / 1e6:.0f} MB"


def this_python(root):
    yield "Python", sys.version.replace("\n", " ")
    yield "its place", sys.executable
    yield "64 bits", str(sys.maxsize > 2**32)
    parts = ("venv", "ensurepip", "ssl", "sqlite3", "zlib", "ctypes")
    yield "parts that are missing", ", ".join(name for name in parts if not importlib.util.find_spec(name)) or "none"


def folder(root):
    text = str(root)
    yield "length of its name", str(len(text))
    yield "spaces in it", str(" " in text)
    yield "letters that are not plain ASCII in it", str(not text.isascii())
    cloud = next((word for word in ("OneDrive", "Dropbox", "iCloud", "Google") if word.lower() in text.lower()), "no")
    yield "in a synchronized folder", cloud
    yield "can be written to", str(can_be_written(root))
    yield "what is wrong with it", place_problem(root) or "nothing"
    changed, missing, foreign = not_as_shipped(root)
    yield "pages changed", ", ".join(changed) or "none"
    yield "pages missing", ", ".join(missing) or "none"
    yield "pages of others", str(len(foreign))


def the_environment(root):
    for name in ("course", "tests"):
        stamp = read_stamp(name, venv_folder(root))
        here = stamp.get("folder") == str(Path(root).resolve())
        yield f"stamp of {name}", ("for this folder" if here else "for another folder") if stamp else "none"
    beside = [path.name for path in (new_folder(root), old_folder(root)) if path.exists()]
    yield "beside it", ", ".join(beside) or "nothing"
    yield "runs now", str(running_server(root) is not None)
    if not venv_python(root).exists():
        yield "packages", "no environment"
        return
    ask = (
        "import sys, platform; print('Python', sys.version.split()[0], platform.machine())\n"
        "for name in sys.argv[1:]:\n"
        "    try: print(name, getattr(__import__(name), '__version__', ''))\n"
        "    except BaseException as error: print(name, 'does not load:', type(error).__name__, error)"
    )
    pipes = {"capture_output": True, "encoding": "utf-8", "errors": "replace", "timeout": 300}
    command = [str(venv_python(root)), "-c", ask, *KEY_PACKAGES]
    said = subprocess.run(command, env=environment(root), check=False, **pipes)
    yield "packages", "\n" + (said.stdout + said.stderr[-2000:]).strip()


def settings(root):
    yield "variables that are set", ", ".join(sorted(name for name in os.environ if name.upper().startswith(NAMES)))
    if venv_python(root).exists():
        yield "pip settings", ", ".join(sorted(pip_settings(venv_folder(root)))) or "none"


def stories(root):
    for name in ("setup-log.txt", "last-error.txt"):
        path = venv_folder(root) / name
        lines = path.read_text("utf-8", errors="replace").splitlines()[-LOG_LINES:] if path.exists() else ["none"]
        yield name, "\n" + "\n".join(lines)


PARTS = (computer, this_python, folder, the_environment, settings, stories)


def report_text(root=ROOT, parts=PARTS):
    """The whole report as text. What cannot be found out is said in its place."""
    lines = [WHAT_IS_IN_IT, time.strftime("Written %Y-%m-%d %H:%M")]
    for part in parts:
        lines.append(f"\n== {part.__name__.replace('_', ' ')}")
        try:
            lines.extend(f"{name}: {value}" for name, value in part(root))
        except Exception as error:  # this is the one place where no error may end the program
            lines.append(f"This could not be found out: {type(error).__name__}: {error}")
    return scrubbed("\n".join(lines) + "\n", root)


def write_report(root=ROOT, places=None):
    """Write the report to the first place that can be written; returns its path. No other file is overwritten."""
    text = report_text(root)
    for place in places or (Path.home() / "Desktop", Path.home(), Path(root), Path.cwd()):
        for number in range(1, 1000):
            path = place / f"course-report-{number}.txt"
            try:
                with open(path, "x", encoding="utf-8") as file:
                    file.write(text)
            except FileExistsError:
                continue
            except OSError:
                break
            return path
    raise OSError("no place was found that a report could be written to")
