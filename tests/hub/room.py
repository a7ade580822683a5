"""Serve the course to a room from one Linux machine: every learner needs a browser and the slip with a password.

    sudo /usr/bin/python3 tests/hub/room.py setup          install everything under /opt/jetting-room
    sudo /usr/bin/python3 tests/hub/room.py seats 12       make accounts seat01 to seat12, print their passwords
    sudo /usr/bin/python3 tests/hub/room.py slips FOLDER   the same to print and cut, with the address to scan
    sudo /usr/bin/python3 tests/hub/room.py serve          until Ctrl-C
    sudo /usr/bin/python3 tests/hub/room.py collect FOLDER everybody's progress, one file a seat
    sudo /usr/bin/python3 tests/hub/room.py remove         the accounts and all that was done in them

JupyterHub does the serving (jupyterhub_config.py); this only lays things out. Standard library only.
"""

import argparse
import contextlib
import fcntl
import os
import pwd
import shutil
import socket
import stat
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))  # for those who load this file by its path
import accounts
from accounts import Ledger, Refusal, as_seat, end_processes, run
from collecting import collect_progress, read_slips, slips_page, trainers_folder
from guarded_files import Folder, Unsafe

SOURCE = Path(__file__).resolve().parents[2]
COPIED = ("lessons", "data", "jetlib", "tests/published", "tests/independent", "tests/hub", "requirements.txt")
TRAINERS = ("classroom.ipynb*", "session_plans")  # kept from the learners' list
START_PAGE = "lessons/00_start_here.ipynb"
# 5.1 is the last that runs on the Node.js of Debian 12; later ones ask for 22.
PROXY = "configurable-http-proxy@~5.1.0"
LOCAL = ("127.0.0.1", "localhost")


def python_of(room):
    return room / ".venv/bin/python"


# --- the room's folder ---


def readable_by_all(path):
    """Whether every account can reach a file."""
    path = Path(path).resolve()
    return all(folder.stat().st_mode & 0o001 for folder in path.parents) and bool(path.stat().st_mode & 0o004)


def check_machine():
    missing = [name for name in ("node", "npm") if not shutil.which(name)]
    if missing:
        raise Refusal("The proxy in front of the hub needs Node.js. On Debian or Ubuntu:\n  apt install nodejs npm")
    if not readable_by_all(sys.executable):
        raise Refusal(f"{sys.executable} lies where learners cannot read. Start this with /usr/bin/python3 instead.")
    if not readable_by_all(shutil.which("node")):
        raise Refusal(f"{shutil.which('node')} lies where only root can read. Install the system's own nodejs.")


def check_place(room, source=SOURCE):
    """Refuse a folder that is anything but a room's own: setting up replaces what lies there."""
    if room.is_relative_to(source) or source.is_relative_to(room):
        raise Refusal(f"{room} holds this course's own files, or lies in them; use --room /opt/jetting-room")
    for folder in room.parents:
        with contextlib.suppress(FileNotFoundError):
            found = folder.stat()
            if found.st_uid or (found.st_mode & 0o022 and not found.st_mode & stat.S_ISVTX):
                raise Refusal(f"Others than root can change {folder}; use --room /opt/jetting-room")
    if not room.exists() or Ledger.file(room).exists():
        return
    if not room.is_dir() or room.stat().st_uid or any(room.iterdir()) or len(room.parts) < 3:
        raise Refusal(f"{room} is there and no room that this made; use --room with a folder that does not exist yet")


@contextlib.contextmanager
def closed(room, inherited=False):
    """Hold the room while nobody is served. inherited: programs that this one turns into go on holding it."""
    with open(room / "private/serving.lock", "a") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise Refusal("The course is being served just now. End that first: Ctrl-C where it runs.") from None
        os.set_inheritable(file.fileno(), inherited)
        yield


def copy_course(room, source=SOURCE):
    """Bring the course's files into the room, readable by all and writable by root only; the trainer's stay out."""
    unwanted = shutil.ignore_patterns("__pycache__", ".*", "node_modules", *TRAINERS)
    for name in COPIED:
        old, new = source / name, room / name
        new.parent.mkdir(parents=True, exist_ok=True)
        if old.is_dir():
            shutil.rmtree(new, ignore_errors=True)
            shutil.copytree(old, new, ignore=unwanted)
        else:
            shutil.copyfile(old, new)
    for path in [room, *(each for name in COPIED for each in (room / name, *(room / name).rglob("*")))]:
        path.chmod(0o755 if path.is_dir() else 0o644)
    for folder in {room / Path(name).parent for name in COPIED}:
        folder.chmod(0o755)


def install(room, source=SOURCE):
    """The course's environment with JupyterHub in it, the learners' settings, the proxy."""
    sys.path.insert(0, str(room / "lessons"))
    import start_settings
    from start_environment import ensure
    from start_place import SIZES, SetupProblem, environment

    SIZES["hub"] = 480  # megabytes
    (room / "proxy").mkdir(exist_ok=True)
    npm = ["npm", "install", "--prefix", room / "proxy", "--no-audit", "--no-fund", "--ignore-scripts"]
    with subprocess.Popen([*npm, "--loglevel=error", PROXY], stdout=subprocess.DEVNULL) as proxy:  # meanwhile
        try:
            ensure([room / "requirements.txt", room / "tests/hub/requirements.txt"], name="hub", root=room)
        except SetupProblem as problem:
            raise Refusal(problem) from None
    if proxy.returncode:
        raise Refusal(f"The proxy could not be installed (npm ended with code {proxy.returncode}). Run setup again.")
    # The course's own face and settings first, as on everybody's own machine, then what a room needs besides.
    start_settings.write_settings(root=room)
    settings = room / ".venv/etc/jupyter/jupyter_server_config.py"
    own = (room / "tests/hub/seat_server_config.py").read_text("utf-8")
    settings.write_text(f"{settings.read_text('utf-8')}\n\n{own}", "utf-8")
    kernels = room / ".venv/etc/ipython"
    kernels.mkdir(parents=True, exist_ok=True)
    (kernels / "ipython_kernel_config.py").write_text(start_settings.KERNEL_CONFIG, "utf-8")
    draw_start_page(room, environment(room), source)
    # Compiled once by root; learners can write nothing there, and each of their servers would compile anew.
    compiled = [python_of(room), "-m", "compileall", "-q", "-j", "0", room / ".venv/lib", room / "jetlib"]
    subprocess.run(compiled, env=environment(room), stdout=subprocess.DEVNULL, check=False)


def draw_start_page(room, env, source=SOURCE):
    """Store the start page's map anew: it lists the pages that are there, and the trainer's is not."""
    code = "import pathlib, sys; sys.path.insert(0, sys.argv[1]); import refresh_notebooks as fresh; "
    code += "sys.exit('; '.join(fresh.refresh(pathlib.Path(sys.argv[2]))) or 0)"
    run(python_of(room), "-c", code, source / "tests", room / START_PAGE, env=env)


def setup(chosen):
    check_machine()
    os.umask(0o022)
    room = chosen.room
    check_place(room)
    (room / "private").mkdir(parents=True, exist_ok=True)
    (room / "private").chmod(0o700)
    with closed(room):
        ready_mark(room).unlink(missing_ok=True)
        if not Ledger.file(room).exists():
            Ledger.new().write(room)
        copy_course(room)
        install(room)
        ready_mark(room).touch()  # last: whatever interrupts a setup, a room that has it is whole


def ready_mark(room):
    return room / "private/ready"


def check_set_up(room, *, only_to_collect=False):
    """The Ledger of a room that is set up; an update that was interrupted must not keep progress from its trainer."""
    ledger = Ledger.read(room)
    if not (only_to_collect or ready_mark(room).is_file()) or not python_of(room).exists():
        raise Refusal(f"Setting up {room} was interrupted; run this with setup again")
    return ledger


# --- seats ---


def make_seats(chosen):
    """End the class before, with all its passwords, sign-ins and homes, and make accounts for the next one."""
    room = chosen.room
    ledger = check_set_up(room)
    names = accounts.seat_names(chosen.name, chosen.count)
    accounts.refuse_strangers(ledger, names)
    if chosen.more:
        words = read_slips(room)
    elif ledger.seats and not chosen.yes:
        raise Refusal(
            f"There is a class of {len(ledger.seats)} seats: {' '.join(ledger.seats)}. For a new class they end, with "
            "all that was done in them.\nFirst keep what is to be kept: collect FOLDER. Then say it with --yes.\n"
            "One more seat for the same class: --more"
        )
    else:
        words = {}
        with closed(room):
            forget_sign_ins(room)
            ledger = accounts.end_seats(room, ledger)
        ledger = replace(ledger, since=time.strftime("%Y-%m-%d_%H%M"))
    ledger = replace(ledger, address=chosen.address or ledger.address, port=chosen.port or ledger.port)
    ledger, fresh = accounts.make(room, ledger, names, words)
    accounts.lay_votes(room, ledger, chosen.trainer)
    made = {name: account for name, account in ledger.write(room).accounts().items() if name in fresh}
    prepare = (python_of(room), room / "tests/hub/seat.py", "--prepare")
    accounts.for_each(made, lambda account: run(*prepare, **as_seat(account)))
    words |= fresh
    paper = "\n".join(f"  {name}    {word}\n" for name, word in words.items())
    with Folder(room / "private", ()) as private:
        private.write("slips.txt", paper.encode())
    print(f"The course will be at {url(room, ledger)}\n\n{paper}\nTo print and cut, with a code to scan: slips FOLDER")
    if ledger.address in LOCAL:
        guess = own_address() or "192.168.1.20"
        print(f"{ledger.address} is this machine alone. For a room say its address there: --address {guess}")


def url(room, ledger):
    """Where learners find the course."""
    scheme = "https" if (room / "private/tls.crt").exists() else "http"
    return f"{scheme}://{ledger.address}:{ledger.port}/"


def own_address():
    """This machine's address in its network, as far as it can be told without sending anything; "" if it cannot."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe, contextlib.suppress(OSError):
        probe.connect(("192.0.2.1", 9))  # an address for examples (RFC 5737); connecting UDP sends nothing
        return probe.getsockname()[0]
    return ""


def print_slips(chosen):
    """Write the slips as a page to print: course, address as text and to scan, name, password."""
    ledger = check_set_up(chosen.room)
    words = {name: word for name, word in read_slips(chosen.room).items() if ledger.own(name)}
    if not words:
        raise Refusal("There are no seats yet; run this with: seats 12")
    page = slips_page(python_of(chosen.room), chosen.room, url(chosen.room, ledger), words)
    with trainers_folder(chosen.folder, ledger) as folder:
        print(folder.write("slips.html", page))


def collect(chosen):
    """Write everybody's progress into the trainer's folder."""
    ledger = check_set_up(chosen.room, only_to_collect=True)
    with trainers_folder(chosen.folder, ledger) as folder:
        for name, found in collect_progress(python_of(chosen.room), chosen.room, ledger).items():
            if isinstance(found, bytes):
                # The class's date is in the name, so that the next class's seat01 does not take this one's place.
                print(folder.write(f"{ledger.since}_{name}.json", found))
            else:
                print(f"{name}: {found}; left out")


def forget_sign_ins(room):
    """End every cookie, token and session: the hub starts with an empty memory and a secret of its own."""
    for file in [*(room / "private").glob("hub.sqlite*"), room / "private/cookie_secret"]:
        file.unlink(missing_ok=True)


def remove(chosen):
    room, ledger = chosen.room, Ledger.read(chosen.room)
    names = " ".join(ledger.seats)
    if not chosen.yes:
        raise Refusal(f"This deletes {len(ledger.seats)} accounts and their homes. Say it with --yes: {names}")
    with closed(room):
        forget_sign_ins(room)
        accounts.end_seats(room, ledger)
        (room / "private/slips.txt").unlink(missing_ok=True)
    if names:
        print(f"Removed: {names}. The course itself is in {room}; delete that folder to be rid of it.")


# --- serving ---


def serve(chosen):
    room = chosen.room
    ledger = check_set_up(room)
    if not ledger.accounts():
        raise Refusal("There are no seats yet; run this with: seats 12")
    named = url(room, ledger)
    ledger = replace(ledger, address=chosen.address or ledger.address, port=chosen.port or ledger.port).write(room)
    if url(room, ledger) != named:
        print(f"The slips say {named}. With the new address: slips FOLDER", flush=True)
    if ledger.address not in LOCAL and url(room, ledger).startswith("http:"):
        print(
            "Plain HTTP: whoever is on this network can read passwords and pages as they pass. See README.", flush=True
        )
    print(f"The course will be at {url(room, ledger)}  (Ctrl-C ends it for everybody)", flush=True)
    settings = {
        "ROOM_ADDRESS": ledger.address,
        "ROOM_PORT": str(ledger.port),
        "ROOM_GROUP": ledger.mark,
        "ROOM_IDLE_SECONDS": str(round(chosen.idle * 60)),
        "ROOM_MEMORY_MB": str(chosen.memory),
        "ROOM_HOURS": str(chosen.hours),
        "ROOM_UNITS": chosen.units,
    }
    kept = {name: os.environ[name] for name in ("LANG", "TZ") if name in os.environ}
    path = {
        "PATH": f"{room}/.venv/bin:/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin",
        "HOME": pwd.getpwuid(0).pw_dir,
    }
    os.chdir(room / "private")
    hub = str(room / ".venv/bin/jupyterhub")
    with closed(room, inherited=True):
        # Whatever a hub that crashed has left running, and every sign-in of before, ends here.
        end_processes(*(account.pw_uid for account in ledger.accounts().values()))
        forget_sign_ins(room)
        os.execve(hub, [hub, "-f", str(room / "tests/hub/jupyterhub_config.py")], kept | path | settings)


def arguments(argv=None):
    parser = argparse.ArgumentParser(prog="room.py", description="Serve the course to a room from one Linux machine.")
    parser.add_argument("--room", type=Path, default=Path("/opt/jetting-room"), help="the room's folder")
    steps = parser.add_subparsers(required=True)
    steps.add_parser("setup", help="install, or bring up to date").set_defaults(do=setup)
    where = argparse.ArgumentParser(add_help=False)
    where.add_argument("--address", help="this machine's address or name in the room's network (at first 127.0.0.1)")
    where.add_argument("--port", type=int, help="this and the two after it are used (at first 8000)")
    step = steps.add_parser("seats", parents=[where], help="end the class before and make accounts for a new one")
    step.add_argument("count", type=int, choices=range(1, 100), metavar="count")
    step.add_argument("--name", default="seat", help="what their names begin with")
    step.add_argument("--yes", action="store_true", help="yes, the class before ends with all that was done")
    step.add_argument("--more", action="store_true", help="keep the seats that are there and add what is missing")
    whose = os.environ.get("SUDO_USER") or pwd.getpwuid(os.geteuid()).pw_name
    step.add_argument(
        "--trainer", default=whose, help="whose classroom page counts the seats' votes (you, if not said)"
    )
    step.set_defaults(do=make_seats)
    step = steps.add_parser("slips", help="write a page to print and cut into a folder")
    step.add_argument("folder", type=Path)
    step.set_defaults(do=print_slips)
    step = steps.add_parser("serve", parents=[where], help="run the hub")
    step.add_argument("--idle", type=float, default=60, help="minutes until a server that nobody uses is stopped")
    step.add_argument("--memory", type=int, default=1024, help="most megabytes of data one process may hold")
    step.add_argument("--units", choices=("US", "metric"), default="US", help="units that learners begin with")
    step.add_argument("--hours", type=float, default=12, help="how long a sign-in is good for, at most")
    step.set_defaults(do=serve)
    step = steps.add_parser("collect", help="copy everybody's progress into a folder")
    step.add_argument("folder", type=Path)
    step.set_defaults(do=collect)
    step = steps.add_parser("remove", help="delete the accounts")
    step.add_argument("--yes", action="store_true")
    step.set_defaults(do=remove)
    return parser.parse_args(argv)


def main(argv=None):
    chosen = arguments(argv)
    chosen.room = chosen.room.resolve()
    try:
        if os.geteuid() != 0:
            raise Refusal("Accounts and other people's servers need root: put sudo before the command.")
        chosen.do(chosen)
    except (Refusal, Unsafe) as refusal:
        print(f"Stopped. {refusal}", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
