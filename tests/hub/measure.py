"""What a room costs: memory and processor time from /proc, and the table that says so.

Memory is PSS, the proportional set size: a page that several processes share counts once in all, in equal parts.
"""

import os
import platform
import pwd
import statistics
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

TICKS = os.sysconf("SC_CLK_TCK")


@dataclass(frozen=True)
class Use:
    """Number of processes, their memory (PSS) in megabytes, and processor time in seconds."""

    processes: int = 0
    memory: float = 0.0
    seconds: float = 0.0

    @classmethod
    def sum(cls, uses):
        uses = list(uses)
        return cls(sum(u.processes for u in uses), sum(u.memory for u in uses), sum(u.seconds for u in uses))


def process_use(pid):
    """Use of one process, with the processor time of children that have ended; nothing if it has gone."""
    try:
        lines = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
        fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    except OSError:
        return Use()
    kilobytes = next(int(line.split()[1]) for line in lines if line.startswith("Pss:"))
    return Use(1, kilobytes * 1024 / 1e6, sum(map(int, fields[11:15])) / TICKS)


def pids():
    return [int(path.name) for path in Path("/proc").iterdir() if path.name.isdigit()]


def owner(pid):
    try:
        return Path(f"/proc/{pid}").stat().st_uid
    except OSError:
        return None


def is_kernel(pid):
    try:
        return b"ipykernel" in Path(f"/proc/{pid}/cmdline").read_bytes()
    except OSError:
        return False


def seat_use(name, kernels=None):
    """Use of all processes of an account; of its kernels only, or of all but those, if `kernels` is True or False."""
    uid = pwd.getpwnam(name).pw_uid
    mine = (pid for pid in pids() if owner(pid) == uid)
    return Use.sum(process_use(pid) for pid in mine if kernels in (None, is_kernel(pid)))


def hub_use(pid):
    """Use of the hub with its proxy and culler: root's processes in the session that the hub leads."""
    return Use.sum(process_use(each) for each in pids() if owner(each) == 0 and led_by(each, pid))


def led_by(pid, leader):
    """Whether a process descends from `leader`."""
    while pid > 1 and pid != leader:
        try:
            pid = int(Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[1])
        except OSError:
            return False
    return pid == leader


def machine():
    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30
    return f"{os.cpu_count()} processors ({platform.machine()}), {memory:.0f} GB, {platform.system()}"


def table(times, whole, names, hub):
    """The measured room as a Markdown table: times[seat] has "server" and "lessons" in seconds."""
    server, lessons = ([each[key] for each in times.values()] for key in ("server", "lessons"))
    alone = [seat_use(name, kernels=False) for name in names]
    kernels = [seat_use(name, kernels=True) for name in names]
    all_of = [Use.sum(pair) for pair in zip(alone, kernels, strict=True)]
    count = sum(use.processes for use in kernels)

    def row(what, values, form="{:.0f}"):
        return f"| {what} | {form.format(statistics.median(values))} | {form.format(max(values))} |"

    return "\n".join(
        [
            f"Measured {datetime.now(UTC):%Y-%m-%d} on {machine()}, Python {platform.python_version()}; "
            f"{len(times)} learners at once, {count} kernels, the learners' browsers played on the same machine. "
            "Memory is PSS from /proc.",
            "",
            "| | median | most |",
            "|---|---:|---:|",
            row("from the login form to JupyterLab, s", server),
            row("then two lessons run from top to bottom at once, s", lessons),
            row("memory of a learner with both open, MB", [use.memory for use in all_of]),
            row("of that the server, MB", [use.memory for use in alone]),
            row("of that each kernel, MB", [use.memory / max(use.processes, 1) for use in kernels]),
            row("processor time of a learner until then, s", [use.seconds for use in all_of], "{:.1f}"),
            "",
            f"Hub, proxy and culler: {hub.memory:.0f} MB. All together: "
            f"{(hub.memory + sum(use.memory for use in all_of)) / 1e3:.1f} GB. "
            f"From the first login to the last cell: {whole:.0f} s.",
            "",
        ]
    )
