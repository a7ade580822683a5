"""Every benchmark, one after the other, and one markdown table of their ratios with the date and the machine's shape.

Run: python tests/benchmarks/all.py [--start] [name …]

The table of a whole run is written to results.md beside this file; that of some names is only printed.

Each runs in a process of its own. Names choose some of them: all.py solver imports. --start lets `latency` set a copy
of the course up as well. Leave the machine alone meanwhile: its load before and after is written with the table.
"""

import datetime
import json
import os
import platform
import subprocess
import sys
from pathlib import Path

from ratios import Ratio, markdown

HERE = Path(__file__).resolve().parent
NOT_THESE = ("all", "ratios")
ONE = """
import importlib, json, sys
sys.path.insert(0, {here!r})
module = importlib.import_module({name!r})
found, words = module.ratios(**{options!r})
print(json.dumps([found, words]))
"""


def names():
    """The benchmarks that give rows: modules here with a `ratios` of their own."""
    modules = {path.stem: path.read_text(encoding="utf-8") for path in sorted(HERE.glob("*.py"))}
    return [name for name, text in modules.items() if name not in NOT_THESE and "\ndef ratios(" in text]


def measured(name, options):
    """(Ratios, sentences) of one benchmark, or a sentence that says why there are none."""
    code = ONE.format(here=str(HERE), name=name, options=options)
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    if done.returncode:
        reason = (done.stderr.strip().splitlines() or ["it gave no reason"])[-1]
        return [], [f"{name} failed: {reason}"]
    found, words = json.loads(done.stdout.splitlines()[-1])
    return [Ratio(*row) for row in found], words


def machine():
    """The machine's shape in words."""
    memory = ""
    if hasattr(os, "sysconf") and "SC_PHYS_PAGES" in os.sysconf_names:
        memory = f", {os.sysconf('SC_PAGE_SIZE') * os.sysconf('SC_PHYS_PAGES') / 2**30:.0f} GB"
    processor = platform.processor() or platform.machine()
    return f"{os.cpu_count()} processors ({processor}){memory}, {platform.system()}, Python {platform.python_version()}"


def load():
    """The machine's load over the last minute, in words."""
    return f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "not known"


def main(arguments):
    chosen = [each for each in arguments if not each.startswith("--")] or names()
    unknown = [each for each in chosen if each not in names()]
    if unknown:
        sys.exit(f"{unknown[0]!r} is no benchmark; write some of {', '.join(names())}")
    before, rows, notes, missed = load(), [], [], 0
    for name in chosen:
        print(f"{name} …", file=sys.stderr, flush=True)
        found, words = measured(name, {"start": True} if name == "latency" and "--start" in arguments else {})
        rows += found
        missed += sum(not each.held for each in found) + (not found)
        notes += [f"- {name}: {each}" for each in words]
    table = "\n".join(
        [
            f"# Measured\n\nMeasured {datetime.date.today():%Y-%m-%d} on {machine()}; "
            f"load {before} before, {load()} after.\n",
            "| what | measured | wanted |\n|---|---:|---|",
            markdown(rows) + "\n",
            *notes,
        ]
    )
    print(table)
    if chosen == names():
        (HERE / "results.md").write_text(table + "\n", "utf-8")
    return int(missed > 0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
