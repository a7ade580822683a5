"""The accounts of a room: which are its own, how they are made, how they end. Standard library only, as root.

A room touches no account and no group but those it made. What it made stands in its ledger, a file that only root can
read or write, and is marked in the system's own list: same name, same number, same mark, same home, or it is not ours.
"""

import contextlib
import grp
import json
import os
import pwd
import re
import secrets
import signal
import subprocess
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path

from guarded_files import clear, sweep

LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"  # none that is taken for another on paper
SEAT = re.compile(r"[a-z]{1,12}[0-9]{2}")
HOMES = "/home"
# Numbers of seats: above those that people's accounts get, and never given twice by one room.
FIRST, LAST = 20_000, 59_999
# Beginnings that would read as somebody else on a slip or in a log; so does every name that this machine knows.
RESERVED = """
adm admin administrator backup bin daemon games guest hub irc jupyter jupyterhub list lp mail man news nobody operator
oper postgres proxy root shutdown ssh sshd staff sudo sync sys system systemd teacher trainer user users uucp wheel www
"""
SHARED = ("/tmp", "/var/tmp", "/dev/shm", "/dev/mqueue", "/run/lock", "/var/spool/cron/atjobs")
BY_NAME = ("/var/spool/cron/crontabs", "/var/spool/cron", "/var/mail", "/var/lib/systemd/linger")


class Refusal(Exception):
    """What is wrong, and what to do."""


def run(*command, **options):
    """Run a command that must succeed."""
    done = subprocess.run([str(part) for part in command], check=False, **options)
    if done.returncode:
        raise Refusal(f"This failed with code {done.returncode}:\n  {' '.join(map(str, command))}")
    return done


@dataclass(frozen=True)
class Ledger:
    """What a room has made. `mark` names its group and stands in its accounts; seats: name -> number, in order.

    A seat stands here before its account is made and until it is gone, so that a room that was interrupted in between
    knows its own.
    """

    mark: str
    seats: dict = field(default_factory=dict)
    next_number: int = FIRST
    since: str = ""  # when these seats were made
    address: str = "127.0.0.1"
    port: int = 8000

    @classmethod
    def file(cls, room):
        return Path(room) / "private/ledger.json"

    @classmethod
    def new(cls):
        return cls(f"room-{secrets.token_hex(4)}")

    @classmethod
    def read(cls, room):
        """The ledger of a room. Raises Refusal if there is none that root alone could have written."""
        file = cls.file(room)
        try:
            handle = os.open(file, os.O_RDONLY | os.O_NOFOLLOW)
            with open(handle, "rb") as opened:
                found = os.fstat(handle)
                if found.st_uid != os.geteuid() or found.st_mode & 0o077:
                    raise Refusal(f"{file} is not root's alone, so it is not believed")
                return cls(**json.loads(opened.read()))
        except FileNotFoundError:
            raise Refusal(f"Nothing is set up in {room}; run this with setup first") from None
        except (OSError, TypeError, ValueError) as error:
            raise Refusal(f"{file} cannot be read: {error}") from None

    def write(self, room):
        file = self.file(room)
        half = file.with_suffix(".half")
        half.unlink(missing_ok=True)
        with open(os.open(half, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8") as opened:
            json.dump(asdict(self), opened, indent=1)
            opened.flush()
            os.fsync(opened.fileno())
        half.replace(file)
        return self

    def own(self, name):
        """The account of a seat if it is there and this room's; None if not."""
        with contextlib.suppress(KeyError):
            account = pwd.getpwnam(name)
            there = (account.pw_uid, account.pw_gecos.split(",")[0], account.pw_dir)
            if there == (self.seats.get(name), f"course seat {self.mark}", f"{HOMES}/{name}"):
                return account
        return None

    def accounts(self):
        """name -> account of every seat that is there."""
        found = {name: self.own(name) for name in self.seats}
        return {name: account for name, account in found.items() if account}


# --- names ---


def seat_names(beginning, count):
    """The names of `count` seats. Raises Refusal for a beginning that is no name, or somebody else's."""
    names = [f"{beginning}{number:02}" for number in range(1, count + 1)]
    if not SEAT.fullmatch(names[0]):
        raise Refusal(f"{names[0]!r} is no name for a seat; use up to 12 small letters, such as --name seat")
    if beginning in RESERVED.split() or known(beginning):
        raise Refusal(f"{beginning!r} is a name that this machine keeps for others; choose another --name")
    return names


def known(name):
    """Whether the machine has an account or group of this name."""
    for look in (pwd.getpwnam, grp.getgrnam):
        with contextlib.suppress(KeyError):
            look(name)
            return True
    return False


def refuse_strangers(ledger, names):
    """Raise Refusal if a name is taken by an account or group that is not this room's, or a home lies there."""
    for name in names:
        if ledger.own(name):
            continue
        if known(name):
            raise Refusal(f"There is an account or group {name} that this room did not make; choose another --name")
        if os.path.lexists(f"{HOMES}/{name}"):
            raise Refusal(f"{HOMES}/{name} is there and has no account of this room; move it, or choose another --name")


# --- making ---


def new_password():
    return "-".join("".join(secrets.choice(LETTERS) for _ in range(4)) for _ in range(3))


def make(room, ledger, names, known_words):
    """Make the seats that are not there yet; (Ledger, name -> password of all that have none in `known_words`)."""
    refuse_strangers(ledger, names)
    if not known(ledger.mark):
        run("groupadd", "--system", ledger.mark)
    for name in names:
        if ledger.own(name):
            continue
        number = free_number(ledger.next_number)
        ledger = replace(ledger, seats=ledger.seats | {name: number}, next_number=number + 1).write(room)
        # 0700: nobody else looks into a home. No shell, so that the password opens the course and no login.
        private = ("--create-home", "--home-dir", f"{HOMES}/{name}", "--key", "HOME_MODE=0700")
        whose = ("--uid", number, "--user-group", "--groups", ledger.mark, "--comment", f"course seat {ledger.mark}")
        run("useradd", *private, *whose, "--shell", "/usr/sbin/nologin", name)
    fresh = {name: new_password() for name in names if name not in known_words}
    lines = "".join(f"{name}:{word}\n" for name, word in fresh.items())
    run("chpasswd", input=lines, encoding="utf-8")
    return ledger, fresh


def free_number(start):
    """The first number from `start` that is nobody's."""
    for number in range(max(start, FIRST), LAST + 1):
        for look in (pwd.getpwuid, grp.getgrgid):
            with contextlib.suppress(KeyError):
                look(number)
                break
        else:
            return number
    raise Refusal(f"No number between {FIRST} and {LAST} is left for an account; set the room up in a fresh folder")


def as_seat(account):
    """Options for `subprocess` to run a command as a learner, with nothing of root's environment."""
    env = {"HOME": account.pw_dir, "PATH": "/usr/bin:/bin", "LANG": "C.UTF-8", "USER": account.pw_name}
    return {"env": env, "cwd": "/", "user": account.pw_uid, "group": account.pw_gid, "extra_groups": []}


def for_each(accounts, do):
    """What `do` says of each account, as many at a time as there are processors."""
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        return dict(zip(accounts, pool.map(do, accounts.values()), strict=True))


def lay_votes(room, ledger, trainer):
    """The folders that seats vote in: what is asked is the trainer's, a seat's own is read by it and the trainer alone.

    Raises Refusal for a trainer who is not there, or who shares a group with the seats.
    """
    try:
        found = pwd.getpwnam(trainer)
    except KeyError:
        raise Refusal(
            f"There is no account {trainer!r} on this machine; say whose the class is with --trainer"
        ) from None
    seats = ledger.accounts()
    groups = {account.pw_gid for account in seats.values()} | {grp.getgrnam(ledger.mark).gr_gid}
    if trainer in seats or found.pw_gid in groups:
        raise Refusal(f"{trainer} is a seat, or in a group with one; say whose the class is with --trainer")
    votes = Path(room) / "votes"
    votes.mkdir(exist_ok=True)
    votes.chmod(0o755)
    for name, uid, gid, mode in [
        ("asked", found.pw_uid, found.pw_gid, 0o755),
        *((name, account.pw_uid, found.pw_gid, 0o2750) for name, account in seats.items()),
    ]:
        folder = votes / name
        if not os.path.lexists(folder):
            folder.mkdir(mode=0o700)
            os.chown(folder, uid, gid)
            folder.chmod(mode)


# --- ending ---


def end_processes(*uids):
    """End everything that runs under these accounts. Raises Refusal if new ones keep coming."""
    for _ in range(100):
        handles = [handle for path in Path("/proc").glob("[0-9]*") if (handle := held(int(path.name), uids))]
        if not handles:
            return
        # All stand still before the first is ended, so that none sees it and starts another.
        for what in (signal.SIGSTOP, signal.SIGKILL):
            for handle in handles:
                with contextlib.suppress(ProcessLookupError):
                    signal.pidfd_send_signal(handle, what)
        for handle in handles:
            os.close(handle)
        time.sleep(0.05)
    raise Refusal("Programs of learners keep coming back. Restart this machine, then run this again.")


def held(pid, uids):
    """A descriptor of a process that runs under one of these accounts; None of any other."""
    with contextlib.suppress(OSError):
        handle = os.pidfd_open(pid)
        if owners(pid) & set(uids) and alive(pid):
            return handle
        os.close(handle)
    return None


def owners(pid):
    """The accounts that a process runs under or was begun by, as with `su`; none if it has gone."""
    with contextlib.suppress(OSError):
        for line in Path(f"/proc/{pid}/status").read_text("utf-8", "replace").splitlines():
            if line.startswith("Uid:"):
                return set(map(int, line.split()[1:]))
    return set()


def alive(pid):
    with contextlib.suppress(OSError):
        return Path(f"/proc/{pid}/stat").read_text("utf-8", "replace").rpartition(")")[2].split()[0] not in "ZX"
    return False


def end_seats(room, ledger):
    """End every seat: processes, home, what was left elsewhere, account and group. Returns the Ledger without them."""
    accounts = ledger.accounts()
    for name in accounts:
        run("usermod", "--lock", "--expiredate", "1", name, stderr=subprocess.DEVNULL)
    uids = {account.pw_uid for account in accounts.values()}
    end_processes(*uids)
    for folder in SHARED:
        sweep(folder, uids)
    remove_shared_memory(uids)
    for name, account in accounts.items():
        for folder in BY_NAME:
            clear(f"{folder}/{name}")
        clear(account.pw_dir)
        if os.path.lexists(account.pw_dir):
            raise Refusal(f"{account.pw_dir} cannot be removed. Restart this machine, then run this again.")
        run("userdel", name, stderr=subprocess.DEVNULL)
        ledger = replace(ledger, seats={other: uid for other, uid in ledger.seats.items() if other != name})
        ledger.write(room)
    clear(f"{room}/votes")
    if strangers := [name for name in ledger.seats if known(name)]:
        print(f"Not as this room made them, so left alone: {' '.join(strangers)}")
    with contextlib.suppress(KeyError):
        grp.getgrnam(ledger.mark)
        run("groupdel", ledger.mark)
    return replace(ledger, seats={}).write(room)


def remove_shared_memory(uids):
    """Remove what these accounts hold in the kernel's own stores: shared memory, queues, semaphores."""
    for kind, flag in (("shm", "-m"), ("msg", "-q"), ("sem", "-s")):
        with contextlib.suppress(OSError):
            head, *rows = (line.split() for line in Path(f"/proc/sysvipc/{kind}").read_text().splitlines())
            for row in rows:
                if int(row[head.index("uid")]) in uids:
                    subprocess.run(["ipcrm", flag, row[1]], stderr=subprocess.DEVNULL, check=False)
