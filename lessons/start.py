r"""Set the course up, the first time, and open it in JupyterLab.

Linux, macOS:  python3 lessons/start.py
Windows:       py lessons\start.py

Everything it makes is in one folder, `.venv`, beside `lessons`; to be rid of it, delete that folder.
The learner's own Jupyter, pip and Python settings are not changed, and do not reach in here.
"""

import argparse
import contextlib
import json
import os
import shutil
import subprocess
import sys
import webbrowser
from pathlib import Path

# This file keeps to what Python 3.6 can read, so that an old Python gets a sentence and not a traceback.
# Python 2 stops at the first f-string below, and shows that line.
OLDEST = (3, 11)


def version_problem(version=None, runs=None, windows=os.name == "nt"):
    """What to tell somebody whose Python is too old; None if it will do."""
    version = tuple((version or sys.version_info)[:2])
    if version >= OLDEST:
        return None
    text = f"This course needs Python 3.11 or newer; this is Python {version[0]}.{version[1]}.\n"
    for minor in () if windows else (13, 12, 11, 14):
        if (runs or program_runs)(f"python3.{minor}"):
            return text + f"A newer one is on this computer. Type:\n  python3.{minor} lessons/start.py"
    command = r"py lessons\start.py" if windows else "python3 lessons/start.py"
    return text + f"Install a current Python (python.org), open a new window and type:\n  {command}"


def program_runs(name):
    path = shutil.which(name)
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    return path is not None and subprocess.call([path, "-c", ""], **quiet) == 0


if version_problem():
    sys.exit(version_problem())

sys.path.insert(0, str(Path(__file__).resolve().parent))  # for those who load this file by its path
try:
    from start_environment import KEY_PACKAGES, ROOT, SetupProblem, alone, environment, settle
    from start_pages import command_line, course_notebooks, find_page, restore, trust
    from start_place import explanation, say, venv_folder, venv_python
    from start_report import keep_traceback, write_report
    from start_server import begin, follow, page_address, running_server, stop_like_ctrl_c
    from start_settings import START_PAGE, write_settings
except ModuleNotFoundError:
    sys.exit("Part of the course is missing. If it is in a zip file, extract the whole zip and start from there.")


def check(root=ROOT):
    """Print what is there, for `--check`."""
    ask = (
        "import sys, json, importlib.metadata as m; "
        "print(json.dumps([sys.version.split()[0], *[m.version(n) for n in sys.argv[1:]]]))"
    )
    command = [str(venv_python(root)), "-c", ask, *KEY_PACKAGES]
    found = subprocess.run(command, env=environment(root), stdout=subprocess.PIPE, encoding="utf-8", check=True)
    python, *versions = json.loads(found.stdout)
    say(f"Python      {python} in {venv_folder(root)}")
    for name, version in zip(KEY_PACKAGES, versions):  # noqa: B905 (the word it asks for is newer than Python 3.6)
        say(f"{name:<12}{version}")
    say(f"Pages       {', '.join(path.stem for path in course_notebooks(root))}")
    info = running_server(root)
    say(f"Running     {'at ' + info['url'] if info else 'no'}")
    say("All is ready.")


def arguments(argv=None):
    parser = argparse.ArgumentParser(
        prog="start.py", description="Set the course up, the first time, and open it in JupyterLab."
    )
    parser.add_argument("page", nargs="?", help="page to open, such as 03 or bench")
    parser.add_argument("--check", action="store_true", help="set up, list what is there, and open nothing")
    parser.add_argument("--redo", action="store_true", help="set up again; what worked before stays if that fails")
    parser.add_argument("--restore", action="store_true", help="restore the page, or all of them; keep a copy of yours")
    parser.add_argument("--report", action="store_true", help="write a report to send if the course does not start")
    parser.add_argument("--no-browser", action="store_true", help="print the address instead of opening a browser")
    parser.add_argument("--port", type=int, help="port to use, 1024 to 65535 (JupyterLab finds a free one itself)")
    chosen = parser.parse_args(argv)
    if chosen.port is not None and not 1024 <= chosen.port <= 65535:
        parser.error(f"--port {chosen.port}: choose 1024 to 65535, such as --port 8899")
    return chosen


def start(chosen):
    """Do what was asked for; returns the exit code."""
    if chosen.restore:
        restore(chosen.page)
        return 0
    with alone():  # until the server answers: of two impatient starts, the second finds it
        info = running_server()
        if info and chosen.redo:
            raise SetupProblem("The course is open in another window. Close it there (Ctrl-C), then give --redo again.")
        if not info:
            settle(redo=chosen.redo)
        page = find_page(chosen.page or START_PAGE)
        if not info:
            write_settings(page=page)
        trust()
        if chosen.check:
            check()
            return 0
        if info and chosen.port in (None, info["port"]):
            say("The course is already running in another window. It is at\n  " + page_address(info, page))
            if not chosen.no_browser:
                webbrowser.open(page_address(info, page))
            return 0
        process, info = begin(port=chosen.port)
    return follow(process, info, page, browser=not chosen.no_browser)


def main(argv=None):
    chosen = arguments(argv)
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError):
            stream.reconfigure(errors="replace")  # a folder name that the window cannot show must not stop it
    stop_like_ctrl_c()
    try:
        if chosen.report:
            say(f"Written to\n  {write_report()}\nRead it, then send it to the person who gave you the course.")
            return 0
        return start(chosen)
    except (SetupProblem, OSError) as problem:
        if isinstance(problem, OSError):
            keep_traceback()
            problem = f"A file could not be read or written.\n{explanation(str(problem))}"
        say(f"\n{'No page was restored' if chosen.restore else 'The course did not start'}.\n{problem}")
        say(f"If that does not help, type this and send the file it writes:\n  {command_line('--report')}")
        return 1
    except KeyboardInterrupt:
        say("\nStopped. Start it again whenever you like; what worked before still works.")
        return 130
    except Exception as error:
        keep_traceback()
        say(f"\nThe course did not start, and this script does not know why:\n  {type(error).__name__}: {error}")
        say(f"To get help, type\n  {command_line('--report')}\nand send the file it writes.")
        return 1


if __name__ == "__main__":
    sys.exit(main())
