"""A room that is really set up and served on loopback, for the tests."""

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import requests
from learner import Learner
from room import readable_by_all

SCRIPT = Path(__file__).parent / "room.py"
SEATS = int(os.environ.get("JETLIB_ROOM_SEATS", "12"))


def python_for_all():
    """A Python that every account can read: this one's base, or the system's."""
    for path in (getattr(sys, "_base_executable", sys.executable), "/usr/bin/python3"):
        if path and Path(path).exists() and readable_by_all(path):
            return path
    return None


def what_is_missing():
    """Why a room cannot be served here; "" if it can."""
    if not sys.platform.startswith("linux") or os.geteuid() != 0:
        return "a room is served by root on Linux: run the tests as root"
    if missing := [name for name in ("node", "npm", "useradd", "chpasswd") if not shutil.which(name)]:
        return f"a room needs {', '.join(missing)}: apt install nodejs npm passwd"
    if not python_for_all():
        return "no Python here that other accounts can read: apt install python3 python3-venv"
    return ""


class Room:
    """A room that is set up, with its hub."""

    def __init__(self, folder, name):
        self.folder, self.name, self.hub, self.log = folder, name, None, folder / "private/hub.log"
        self.port = 18600
        self.url = f"http://127.0.0.1:{self.port}"
        self.learners = []

    def refused(self, *arguments):
        """What the script says when it will not do something."""
        code, said = self._run(*arguments)
        assert code == 1, said
        return said

    def script(self, *arguments):
        """What the script says when it has done something."""
        code, said = self._run(*arguments)
        assert code == 0, said
        return said

    def _run(self, *arguments):
        command = [python_for_all(), str(SCRIPT), "--room", str(self.folder), *arguments]
        done = subprocess.run(command, capture_output=True, encoding="utf-8", timeout=600)
        return done.returncode, done.stdout + done.stderr

    def serve(self, *options):
        command = [python_for_all(), str(SCRIPT), "--room", str(self.folder), "serve", "--port", str(self.port)]
        with open(self.log, "a") as log:
            self.hub = subprocess.Popen([*command, *options], stdout=log, stderr=log, start_new_session=True)
        until = time.monotonic() + 90
        while time.monotonic() < until and self.hub.poll() is None:
            try:
                if requests.get(f"{self.url}/hub/health", timeout=5).ok:
                    return
            except requests.ConnectionError:
                time.sleep(0.2)
        raise AssertionError("the hub did not start:\n" + self.log.read_text()[-4000:])

    def stop(self):
        if self.hub and self.hub.poll() is None:
            self.hub.send_signal(signal.SIGTERM)
            self.hub.wait(timeout=60)

    def passwords(self):
        return dict(line.split() for line in (self.folder / "private/slips.txt").read_text().splitlines() if line)

    def learner(self, number):
        name = f"{self.name}{number:02}"
        self.learners.append(Learner(self.url, name, self.passwords()[name]))
        return self.learners[-1]

    def progress(self, number):
        """What is on disk of somebody's progress."""
        path = Path(f"/home/{self.name}{number:02}/.local/share/jetlib/progress.json")
        return json.loads(path.read_text("utf-8"))
