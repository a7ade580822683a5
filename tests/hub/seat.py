"""A learner's Jupyter server. The hub starts this with the learner's account; it never runs as root.

`seat.py --prepare` only lays the pages out. Pages that are missing in the learner's home are copied from the course:
what a learner changed stays, and a page that was spoiled comes back fresh once it is deleted.
"""

import os
import re
import resource
import shutil
import subprocess
import sys
from pathlib import Path

ROOM = Path(__file__).resolve().parents[2]
MOST_PROCESSES = 500  # threads count
MOST_FILE = 200_000_000  # bytes
PAGES = (".ipynb", ".png", ".svg")


def lay_out(source, target):
    """Copy what is missing in the folder `target`; returns the notebooks that were copied."""
    copied = []
    for path in sorted(source.rglob("*")):
        if path.suffix not in PAGES or ".ipynb_checkpoints" in path.parts:
            continue
        place = target / path.relative_to(source)
        if not os.path.lexists(place):
            place.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(path, place)
            copied += [place] if path.suffix == ".ipynb" else []
    return copied


def sign(notebooks):
    """Mark pages as trusted by this learner, so that pictures and buttons work before they are run."""
    command = [sys.executable, "-c", "from nbformat.sign import TrustNotebookApp as app; app.launch_instance()"]
    subprocess.run([*command, *map(str, notebooks)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)


def limit(megabytes):
    """Keep one learner's mistake from taking the whole machine. Kernels inherit all of it."""
    resource.setrlimit(resource.RLIMIT_DATA, (megabytes * 2**20,) * 2)
    resource.setrlimit(resource.RLIMIT_NPROC, (MOST_PROCESSES,) * 2)
    resource.setrlimit(resource.RLIMIT_FSIZE, (MOST_FILE,) * 2)
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    os.nice(5)  # the hub and its proxy answer first
    Path("/proc/self/oom_score_adj").write_text("500", "ascii")  # and are ended last when memory runs out


def main(arguments):
    if os.getuid() == 0:
        sys.exit("seat.py is for a learner's account, not for root; use room.py.")
    os.umask(0o077)
    home = Path.home()
    os.environ["JETLIB_HOME"] = str(home / ".local/share/jetlib")
    if number := re.search(r"[0-9]+$", os.environ.get("JUPYTERHUB_USER", "")):
        os.environ["JETLIB_SEAT"] = number.group()  # exercises begin with other numbers at every seat
    vote = ROOM / "votes" / Path.home().name / "vote.json"
    if vote.parent.is_dir():
        os.environ["JETLIB_VOTE_FILE"] = str(vote)
    if notebooks := lay_out(ROOM / "lessons", home / "lessons"):
        sign(notebooks)
    if arguments == ["--prepare"]:
        return
    if megabytes := os.environ.get("ROOM_MEMORY_MB"):  # elsewhere the container keeps the limits
        limit(int(megabytes))
    os.execv(sys.executable, [sys.executable, "-m", "jupyterhub.singleuser", *arguments])


if __name__ == "__main__":
    main(sys.argv[1:])
