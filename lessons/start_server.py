"""Running JupyterLab for the course, and finding one that runs already. Standard library only."""

import contextlib
import json
import secrets
import signal
import socket
import subprocess
import time
import webbrowser
from pathlib import Path
from urllib import request

from start_pip import kept
from start_place import ROOT, WINDOWS, SetupProblem, environment, say, venv_folder, venv_python


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


def port_is_free(port, windows=WINDOWS):
    with socket.socket() as probe:
        if not windows:  # where this word would let two programs have one port
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OSError:
            return False
    return True


def begin(root=ROOT, port=None):
    """Start JupyterLab and wait until it answers; returns its process, and what it says of itself (None: it ended)."""
    # The browser is opened from here with a plain address: the redirect file that JupyterLab would write cannot be
    # read by browsers that are kept in a sandbox, nor from the Linux inside Windows.
    command = [venv_python(root), "-m", "jupyterlab", "--no-browser"]
    if port:
        if not port_is_free(port):
            raise SetupProblem(f"Port {port} is used by another program. Choose another, or leave --port out.")
        command += [f"--ServerApp.port={port}", "--ServerApp.port_retries=0"]
    say("Starting JupyterLab. Keep this window open while you work; press Ctrl-C in it to stop.")
    token = secrets.token_hex(24)
    env = {**environment(root), "JUPYTER_TOKEN": token}
    process, info = kept(command, gently=True, cwd=str(root), env=env), None
    try:
        while info is None and process.poll() is None:
            time.sleep(0.2)
            info = running_server(root, token)
    except BaseException:
        stop(process, None)
        raise
    return process, info


def follow(process, info, page, browser=True):
    """Open the page and wait until JupyterLab has ended; returns its exit code."""
    try:
        if info:
            say("The course is open at\n  " + page_address(info, page))
            if browser and not webbrowser.open(page_address(info, page)):
                say("No browser opened: copy that line into one.")
        code = process.wait()
        if not info:
            say("JupyterLab could not start; its message is above. To set everything up again, add --redo.")
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
            process.wait(timeout=15)
    with contextlib.suppress(OSError):
        process.stdin.close()  # its keeper ends it
    process.wait()


def stop_like_ctrl_c():
    """Let a request to end, and a window that is closed, do what Ctrl-C does."""
    for name in ("SIGTERM", "SIGHUP"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), signal.default_int_handler)
