r"""Set the course up, the first time, and open it in JupyterLab.

Linux, macOS:  python3 lessons/start.py
Windows:       py lessons\start.py

Everything it makes is in one folder, `.venv`, beside `lessons`; to be rid of it, delete that folder.
The learner's own Jupyter, pip and Python settings are neither read nor changed.
"""

import argparse
import contextlib
import json
import os
import secrets
import shutil
import signal
import socket
import subprocess
import sys
import time
import webbrowser
from pathlib import Path
from urllib import request

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
    from start_environment import (
        KEY_PACKAGES,
        ROOT,
        SetupProblem,
        ensure,
        environment,
        say,
        venv_folder,
        venv_python,
    )
    from start_settings import START_PAGE, write_settings
except ModuleNotFoundError:
    sys.exit("Part of the course is missing. If it is in a zip file, extract the whole zip and start from there.")


def course_notebooks(root=ROOT):
    return sorted((Path(root) / "lessons").glob("*.ipynb"))


def trust(root=ROOT):
    """Sign the course's own notebooks, so that their pictures and buttons work before they are run."""
    signed = venv_folder(root) / "signed.json"
    marks = {path.name: [path.stat().st_size, path.stat().st_mtime_ns] for path in course_notebooks(root)}
    with contextlib.suppress(OSError, ValueError):
        if json.loads(signed.read_text("utf-8")) == marks:
            return
    sign = "from nbformat.sign import TrustNotebookApp as app; app.launch_instance()"
    command = [str(venv_python(root)), "-c", sign, *(str(path) for path in course_notebooks(root))]
    done = subprocess.run(command, env=environment(root), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    if done.returncode:
        say("Note: the pages could not be marked as trusted; JupyterLab will ask before their buttons work.")
    else:
        signed.write_text(json.dumps(marks), "utf-8")


def find_page(name, root=ROOT):
    """Stem of the notebook meant by `name`: "03", "bench", "bench.ipynb" or "lessons/03_hose_friction.ipynb"."""
    stems = [path.stem for path in course_notebooks(root)]
    wanted = Path(name.replace("\\", "/")).name
    wanted = wanted[: -len(".ipynb")] if wanted.endswith(".ipynb") else wanted
    fits = [stem for stem in stems if stem == wanted] or [stem for stem in stems if stem.startswith(wanted)]
    if len(fits) == 1:
        return fits[0]
    if name == START_PAGE:
        raise SetupProblem(f"The start page is missing: lessons/{START_PAGE}.ipynb. Get the course again.")
    raise SetupProblem(f"No single page is called {name!r}. There are: {', '.join(stems)}")


def running_server(root=ROOT, token=None):
    """What a server that already shows this course says of itself (url, port, token, …), or None."""
    for path in (venv_folder(root) / "share/jupyter/runtime").glob("jpserver-*.json"):
        with contextlib.suppress(OSError, ValueError, KeyError):
            info = json.loads(path.read_text("utf-8"))
            if token not in (None, info["token"]) or Path(info["root_dir"]) != Path(root):
                continue
            ask_server(info, "api/status")
            return info
    return None


def ask_server(info, path, method="GET"):
    """Body of a running server's answer; OSError if it does not answer well."""
    asked = request.Request(info["url"] + path, headers={"Authorization": "token " + info["token"]}, method=method)
    # No proxy: the server is on this computer.
    with request.build_opener(request.ProxyHandler({})).open(asked, timeout=5) as answer:
        return answer.read()


def page_address(info, page):
    return f"{info['url']}lab/tree/lessons/{page}.ipynb?token={info['token']}"


def port_is_free(port):
    with socket.socket() as probe:
        if os.name != "nt":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OSError:
            return False
    return True


def launch(root=ROOT, page=START_PAGE, port=None, browser=True):
    """Run JupyterLab until it is stopped; returns its exit code."""
    # The browser is opened from here with a plain address: the redirect file that JupyterLab would write cannot be
    # read by browsers that are kept in a sandbox, nor from the Linux inside Windows.
    command = [str(venv_python(root)), "-m", "jupyterlab", "--no-browser"]
    if port:
        if not port_is_free(port):
            raise SetupProblem(f"Port {port} is used by another program. Choose another, or leave --port out.")
        command += [f"--ServerApp.port={port}", "--ServerApp.port_retries=0"]
    say("Starting JupyterLab. Keep this window open while you work; press Ctrl-C in it to stop.")
    token = secrets.token_hex(24)
    # In a group of its own, so that Ctrl-C reaches only this script, which then asks for an orderly stop.
    own = {"start_new_session": True} if os.name != "nt" else {"creationflags": subprocess.CREATE_NEW_PROCESS_GROUP}
    process = subprocess.Popen(command, cwd=str(root), env={**environment(root), "JUPYTER_TOKEN": token}, **own)
    for name in ("SIGTERM", "SIGHUP"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), signal.default_int_handler)
    info = None
    try:
        while info is None and process.poll() is None:
            time.sleep(0.2)
            info = running_server(root, token)
        if info:
            say("The course is open at\n  " + page_address(info, page))
            if browser and not webbrowser.open(page_address(info, page)):
                say("No browser opened by itself: copy that line into one.")
        code = process.wait()
        if not info:
            say("JupyterLab could not start; what it said stands above. To make everything afresh, add --redo.")
        return code
    except KeyboardInterrupt:
        say("\nStopping.")
        stop(process, info)
        say("The course is closed.")
        return 0


def stop(process, info):
    """End JupyterLab and its kernels: politely, then less so."""
    with contextlib.suppress(OSError, KeyboardInterrupt, subprocess.TimeoutExpired):
        if info:
            ask_server(info, "api/shutdown", method="POST")
        else:
            process.terminate()
        process.wait(timeout=15)
    if process.poll() is None:
        process.kill()
        process.wait()


def report(root=ROOT):
    """Print what is there, for `--check`."""
    ask = "import sys, importlib.metadata as m; print(sys.version.split()[0], *[m.version(n) for n in sys.argv[1:]])"
    command = [str(venv_python(root)), "-c", ask, *KEY_PACKAGES]
    found = subprocess.run(command, env=environment(root), stdout=subprocess.PIPE, encoding="utf-8", check=True)
    python, *versions = found.stdout.split()
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
    parser.add_argument("page", nargs="?", default=START_PAGE, help="page to open, such as 03 or bench")
    parser.add_argument("--check", action="store_true", help="set up, say what is there, and open nothing")
    parser.add_argument("--redo", action="store_true", help="make the environment afresh")
    parser.add_argument("--no-browser", action="store_true", help="print the address instead of opening a browser")
    parser.add_argument("--port", type=int, help="port to use, 1024 to 65535 (JupyterLab finds a free one itself)")
    chosen = parser.parse_args(argv)
    if chosen.port is not None and not 1024 <= chosen.port <= 65535:
        parser.error(f"--port {chosen.port}: choose 1024 to 65535, such as --port 8899")
    return chosen


def main(argv=None):
    chosen = arguments(argv)
    with contextlib.suppress(AttributeError):
        sys.stdout.reconfigure(errors="replace")  # a folder name that the window cannot show must not stop it
    try:
        ensure(redo=chosen.redo)
        page = find_page(chosen.page)
        write_settings(page=page)
        trust()
        if chosen.check:
            report()
            return 0
        info = running_server()
        if info and chosen.port in (None, info["port"]):
            say("The course is already running in another window. It is at\n  " + page_address(info, page))
            if not chosen.no_browser:
                webbrowser.open(page_address(info, page))
            return 0
        return launch(page=page, port=chosen.port, browser=not chosen.no_browser)
    except SetupProblem as problem:
        say(f"\nThe course did not start.\n{problem}")
        return 1
    except KeyboardInterrupt:
        say("\nStopped. Start it again when you like; an unfinished set-up is redone.")
        return 130


if __name__ == "__main__":
    sys.exit(main())
