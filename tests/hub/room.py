"""Serve the course to a room from one Linux machine: every learner needs a browser and the slip with a password.

    sudo /usr/bin/python3 tests/hub/room.py setup          install everything under /opt/jetting-room
    sudo /usr/bin/python3 tests/hub/room.py seats 12       make accounts seat01 to seat12, print the slips
    sudo /usr/bin/python3 tests/hub/room.py serve          until Ctrl-C
    sudo /usr/bin/python3 tests/hub/room.py collect FOLDER everybody's progress, one file a seat
    sudo /usr/bin/python3 tests/hub/room.py remove         the accounts and all that was done in them

JupyterHub does the serving (jupyterhub_config.py); this only lays things out. Standard library only.
"""

import argparse
import contextlib
import grp
import os
import pwd
import re
import secrets
import shutil
import signal
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

SOURCE = Path(__file__).resolve().parents[2]
SEAT = re.compile(r"[a-z]{1,12}[0-9]{2}")
GROUP = re.compile(r"[a-z][a-z0-9_-]{1,29}")
COPIED = ("lessons", "data", "jetlib", "tests/published", "tests/independent", "tests/hub", "requirements.txt")
LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"  # none that is taken for another on paper
# 5.1 is the last that runs on the Node.js of Debian 12; later ones ask for 22.
PROXY = "configurable-http-proxy@~5.1.0"


class Refusal(Exception):
    """What is wrong, and what to do."""


def run(*command, **options):
    """Run a command that must succeed."""
    done = subprocess.run([str(part) for part in command], check=False, **options)
    if done.returncode:
        raise Refusal(f"This failed with code {done.returncode}:\n  {' '.join(map(str, command))}")
    return done


def python_of(room):
    return room / ".venv/bin/python"


def as_seat(name, *command, **options):
    """Run a command as a learner, with nothing of root's environment."""
    account = pwd.getpwnam(name)
    env = {"HOME": account.pw_dir, "PATH": "/usr/bin:/bin", "LANG": "C.UTF-8", "USER": name}
    who = {"user": account.pw_uid, "group": account.pw_gid, "extra_groups": []}
    return run(*command, env=env, cwd="/", **who, **options)


# --- setup ---


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


def copy_course(room, source=SOURCE):
    """Bring the course's files into the room, readable by all and writable by root only."""
    unwanted = shutil.ignore_patterns("__pycache__", ".*", "node_modules")
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


def install(room):
    """The course's environment with JupyterHub in it, the learners' settings, the proxy."""
    sys.path.insert(0, str(room / "lessons"))
    import start
    from start_environment import SIZES, ensure, environment
    from start_settings import KERNEL_CONFIG

    SIZES["hub"] = 480  # megabytes
    try:
        ensure([room / "requirements.txt", room / "tests/hub/requirements.txt"], name="hub", root=room)
    except start.SetupProblem as problem:
        raise Refusal(problem) from None
    settings = room / ".venv/etc/jupyter"
    start.write_settings(root=room)
    shutil.copyfile(room / "tests/hub/seat_server_config.py", settings / "jupyter_server_config.py")
    kernels = room / ".venv/etc/ipython"
    kernels.mkdir(parents=True, exist_ok=True)
    (kernels / "ipython_kernel_config.py").write_text(KERNEL_CONFIG, "utf-8")
    # Compiled once by root; learners can write nothing there, and each of their servers would compile anew.
    compiled = [python_of(room), "-m", "compileall", "-q", "-j", "0", room / ".venv/lib", room / "jetlib"]
    subprocess.run(compiled, env=environment(room), stdout=subprocess.DEVNULL, check=False)
    npm = ("npm", "install", "--prefix", room / "proxy", "--no-audit", "--no-fund", "--ignore-scripts")
    (room / "proxy").mkdir(exist_ok=True)
    run(*npm, "--loglevel=error", PROXY)


def setup(chosen):
    check_machine()
    os.umask(0o022)
    room = chosen.room
    if not GROUP.fullmatch(room.name):
        raise Refusal(
            f"{room.name!r} names the accounts' group too; use small letters, such as --room /opt/jetting-room"
        )
    (room / "private").mkdir(parents=True, exist_ok=True)
    (room / "private").chmod(0o700)
    copy_course(room)
    install(room)


# --- seats ---


def seats(room):
    """Names of the accounts in the room: the members of the group that is called like its folder."""
    with contextlib.suppress(KeyError):
        return sorted(grp.getgrnam(room.name).gr_mem)
    return []


def new_password():
    return "-".join("".join(secrets.choice(LETTERS) for _ in range(4)) for _ in range(3))


def make_seats(chosen):
    names = [f"{chosen.name}{number:02}" for number in range(1, chosen.count + 1)]
    if bad := [name for name in names if not SEAT.fullmatch(name)]:
        raise Refusal(f"{bad[0]!r} is no name for a seat; use up to 12 small letters, such as --name seat")
    taken = [
        name for name in names if name not in seats(chosen.room) and name in {each.pw_name for each in pwd.getpwall()}
    ]
    if taken:
        raise Refusal(f"There is an account {taken[0]} that is not this room's; choose another --name")
    if not python_of(chosen.room).exists():
        raise Refusal(f"Nothing is set up in {chosen.room}; run this with setup first")
    run("groupadd", "--force", "--system", chosen.room.name)
    slips, there = {}, seats(chosen.room)
    for name in names:
        if name not in there:
            # 0700: nobody else looks into a home. No shell, so that the password opens the course and no login.
            private = ("--create-home", "--key", "HOME_MODE=0700", "--user-group", "--groups", chosen.room.name)
            run("useradd", *private, "--shell", "/usr/sbin/nologin", "--comment", "course seat", name)
        slips[name] = new_password()
    prepare = (python_of(chosen.room), chosen.room / "tests/hub/seat.py", "--prepare")
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        list(pool.map(lambda name: as_seat(name, *prepare), names))
    run("chpasswd", input="".join(f"{name}:{word}\n" for name, word in slips.items()), encoding="utf-8")
    paper = "\n".join(f"  {name}    {word}\n" for name, word in slips.items())
    file = chosen.room / "private/slips.txt"
    file.touch(0o600)
    file.write_text(paper, "utf-8")
    print(f"Cut into slips, one a learner (also in {file}):\n\n{paper}")


def collect(chosen):
    """Each learner's progress, written by the learner's own account and taken over as bytes."""
    chosen.folder.mkdir(parents=True, exist_ok=True)
    code = (
        "import sys, pathlib, tempfile; from jetlib.course.progress import current; "
        "folder = pathlib.Path(tempfile.mkdtemp()); path = folder / 'export.json'; "
        "path = pathlib.Path(current().export(path, sys.argv[1])); "
        "sys.stdout.buffer.write(path.read_bytes()); path.unlink(); folder.rmdir()"
    )
    for name in seats(chosen.room):
        home = f"JETLIB_HOME={pwd.getpwnam(name).pw_dir}/.local/share/jetlib"
        try:
            export = ("env", home, python_of(chosen.room), "-c", code, name)
            done = as_seat(name, *export, stdout=subprocess.PIPE, timeout=60)
        except (Refusal, subprocess.TimeoutExpired):
            print(f"{name}: what is there cannot be read; left out")
            continue
        (chosen.folder / f"{name}.json").write_bytes(done.stdout)
        print(chosen.folder / f"{name}.json")


def end_processes(uid):
    """End everything that runs under an account, until nothing is left."""
    while pids := [int(path.name) for path in Path("/proc").glob("[0-9]*") if owner(path) == uid]:
        for pid in pids:
            with contextlib.suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)
        time.sleep(0.1)


def owner(path):
    """Who a process or file belongs to; None if it has gone."""
    with contextlib.suppress(OSError):
        return path.stat().st_uid
    return None


def remove(chosen):
    names = seats(chosen.room)
    if not chosen.yes:
        raise Refusal(f"This deletes {len(names)} accounts and their homes. Say it with --yes: {' '.join(names)}")
    for name in names:
        end_processes(pwd.getpwnam(name).pw_uid)
        run("userdel", "--remove", name, stderr=subprocess.DEVNULL)
    if names:
        run("groupdel", chosen.room.name)
        print(f"Removed: {' '.join(names)}. The course itself is in {chosen.room}; delete that folder to be rid of it.")


# --- serving ---


def serve(chosen):
    room = chosen.room
    if not (room / "proxy/node_modules").is_dir() or not python_of(room).exists():
        raise Refusal(f"Nothing is set up in {room}; run this with setup first")
    if not seats(room):
        raise Refusal("There are no seats yet; run this with: seats 12")
    tls = (room / "private/tls.crt").exists()
    if chosen.address not in ("127.0.0.1", "localhost") and not tls:
        print(
            "Plain HTTP: whoever is on this network can read passwords and pages as they pass. See README.", flush=True
        )
    scheme = "https" if tls else "http"
    print(
        f"The course will be at {scheme}://{chosen.address}:{chosen.port}/  (Ctrl-C ends it for everybody)", flush=True
    )
    settings = {
        "ROOM_ADDRESS": chosen.address,
        "ROOM_PORT": str(chosen.port),
        "ROOM_IDLE_SECONDS": str(round(chosen.idle * 60)),
        "ROOM_MEMORY_MB": str(chosen.memory),
    }
    kept = {name: os.environ[name] for name in ("LANG", "TZ") if name in os.environ}
    path = {
        "PATH": f"{room}/.venv/bin:/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin",
        "HOME": pwd.getpwuid(0).pw_dir,
    }
    os.chdir(room / "private")
    hub = str(room / ".venv/bin/jupyterhub")
    os.execve(hub, [hub, "-f", str(room / "tests/hub/jupyterhub_config.py")], kept | path | settings)


def arguments(argv=None):
    parser = argparse.ArgumentParser(prog="room.py", description="Serve the course to a room from one Linux machine.")
    parser.add_argument("--room", type=Path, default=Path("/opt/jetting-room"), help="the room's folder")
    steps = parser.add_subparsers(required=True)
    steps.add_parser("setup", help="install, or bring up to date").set_defaults(do=setup)
    step = steps.add_parser("seats", help="make accounts, with new passwords")
    step.add_argument("count", type=int, choices=range(1, 100), metavar="count")
    step.add_argument("--name", default="seat", help="what their names begin with")
    step.set_defaults(do=make_seats)
    step = steps.add_parser("serve", help="run the hub")
    step.add_argument("--address", default="127.0.0.1", help="this machine's address in the room's network")
    step.add_argument("--port", type=int, default=8000, help="this and the two after it are used")
    step.add_argument("--idle", type=float, default=60, help="minutes until a server that nobody uses is stopped")
    step.add_argument("--memory", type=int, default=1024, help="most megabytes of data one process may hold")
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
    chosen.room = chosen.room.absolute()
    try:
        if os.geteuid() != 0:
            raise Refusal("Accounts and other people's servers need root: put sudo before the command.")
        chosen.do(chosen)
    except Refusal as refusal:
        print(f"Stopped. {refusal}", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
