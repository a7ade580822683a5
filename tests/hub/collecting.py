"""Taking over what learners did, and writing for the trainer: as root, and trusting nothing that a learner can touch.

Standard library only.
"""

import contextlib
import grp
import json
import os
import select
import subprocess
import time

from accounts import as_seat, for_each, run
from guarded_files import Folder, Unsafe, open_in_home

PROGRESS = (".local", "share", "jetlib")  # in a home, as seat.py sets JETLIB_HOME
FILES = ("progress.json", "progress.previous.json")  # the second where the first is spoiled
MOST = 5_000_000  # bytes
PATIENCE = 60  # seconds


def trainers_folder(path, ledger):
    """The Folder that the trainer names, the trainer's own if it has to be made."""
    trainer = (int(os.environ.get("SUDO_UID", 0)), int(os.environ.get("SUDO_GID", 0)))
    groups = []
    with contextlib.suppress(KeyError):
        groups = [grp.getgrnam(ledger.mark).gr_gid]
    return Folder(path, ledger.seats.values(), groups, trainer)


def collect_progress(python, room, ledger):
    """name -> a learner's progress as bytes for the trainer's page, or words why there is none."""
    return for_each(ledger.accounts(), lambda account: exported(python, room, account))


def exported(python, room, account):
    why = "nothing done yet"
    for name in FILES:
        try:
            handle = open_in_home(account.pw_dir, (*PROGRESS, name), account.pw_uid, MOST)
        except Unsafe as unsafe:
            return str(unsafe)
        if handle is None:
            continue
        with open(handle, "rb") as file:
            if found := labelled(python, room, account, file):
                return found
        why = "what is there cannot be read"
    return why


def labelled(python, room, account, file):
    """Progress in an open file, checked and with the seat's name in it, as bytes; None if it cannot be read.

    A program with the learner's rights does it, so that nothing a learner wrote is looked into with root's.
    """
    command = (python, "-I", room / "tests/hub/label.py", account.pw_name)
    pipes = {"stdin": file, "stdout": subprocess.PIPE, "stderr": subprocess.DEVNULL}
    process, data, until = subprocess.Popen(command, **as_seat(account), **pipes), b"", time.monotonic() + PATIENCE
    try:
        # No byte more than the most and no second longer, whoever holds the other end of this pipe.
        while len(data) <= MOST and select.select([process.stdout], [], [], max(until - time.monotonic(), 0))[0]:
            if not (piece := os.read(process.stdout.fileno(), 65_536)):
                return data if process.wait(PATIENCE) == 0 else None
            data += piece
    except subprocess.TimeoutExpired:
        pass
    finally:
        process.kill()
        process.stdout.close()
        process.wait()
    return None


# --- slips ---


def read_slips(room):
    """name -> password, as written when the seats were made."""
    with contextlib.suppress(FileNotFoundError):
        lines = (room / "private/slips.txt").read_text("utf-8").splitlines()
        return dict(line.split() for line in lines if line.strip())
    return {}


def slips_page(python, room, url, words):
    """A page of slips to print, as bytes: drawn by the room's own packages."""
    asked = json.dumps({"url": url, "words": words}).encode()
    return run(python, "-I", room / "tests/hub/slips.py", input=asked, stdout=subprocess.PIPE).stdout
