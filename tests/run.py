r"""Set the environment up, with what the tests need, and run them all.

Linux, macOS:  python3 tests/run.py
Windows:       py tests\run.py

All: lint and format, the tests under tests/, every notebook under lessons/ run afresh and compared with what is
stored in it, and whether the notebooks were saved in a clean state. With arguments only pytest runs, with those
arguments: `python3 tests/run.py tests/rig -k sweep`.
"""

import contextlib
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "lessons"))

import start  # noqa: E402 (it leaves with a message if this Python is too old)

# Two workers: what the machines of most people have to spare. By file, because a notebook's cells share a kernel; in
# their order, because the browser's few long tests would be left to one worker at the end.
WORKERS = ("-n", "2", "--dist", "loadfile", "--no-loadscope-reorder")
#: What moves the controls of a notebook once nbval has run it.
PLUGIN = str(ROOT / "tests" / "plugin")
NOTEBOOKS = (
    "-p",
    "driven_notebooks",
    "--nbval-lax",
    "--nbval-current-env",
    "--nbval-sanitize-with",
    "tests/nbval_sanitize.cfg",
)


def test_requirements(root=ROOT):
    return [Path(root) / "requirements.txt", Path(root) / "tests" / "requirements.txt"]


def ready_python(root=ROOT):
    """Path of the environment's Python, with course and test packages installed."""
    from start_environment import ensure

    return ensure(test_requirements(root), name="tests", root=root)


def steps(python, arguments, notebooks=True):
    """What to run, as (name, command) pairs."""
    pytest = [python, "-m", "pytest"]
    if arguments:
        return [("pytest", [*pytest, *NOTEBOOKS, *arguments])]
    ruff = [python, "-m", "ruff"]
    both = ["tests", "lessons", *NOTEBOOKS] if notebooks else ["tests"]
    return [
        ("lint", [*ruff, "check", "."]),
        ("format", [*ruff, "format", "--check", "."]),
        ("notebooks as stored", [python, "tests/refresh_notebooks.py", "--check"]),
        ("tests and notebooks" if notebooks else "tests", [*pytest, *WORKERS, *both]),
    ]


def in_memory(place="/dev/shm", needed=3 * 2**30):
    """A folder whose files are in memory, with room for all that the tests put down; None where there is none.

    Progress is on the disk before a page says that it is saved. The tests save some thousand times.
    """
    with contextlib.suppress(OSError):
        memory = re.search(r"^MemAvailable: *(\d+) kB", Path("/proc/meminfo").read_text("utf-8"), re.M)
        room = min(1024 * int(memory[1]) / 2, shutil.disk_usage(place).free)
        runs_programs = not os.statvfs(place).f_flag & os.ST_NOEXEC
        if room >= needed and runs_programs and os.access(place, os.W_OK):
            return place
    return None


def main(arguments):
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError):
            stream.reconfigure(errors="replace")  # a folder name that the window cannot show must not stop it
    try:
        python = str(ready_python())
    except start.SetupProblem as problem:
        print(f"\nThe tests did not start.\n{problem}")
        return 1
    start.write_settings()
    results = []
    # Notebooks are run with nobody's progress, and leave none behind.
    with tempfile.TemporaryDirectory(prefix="jetlib-", dir=in_memory(), ignore_cleanup_errors=True) as place:
        home, files = Path(place, "home"), Path(place, "files")
        files.mkdir()
        own = {"JETLIB_HOME": str(home), "TMPDIR": str(files), "PYTHONPATH": PLUGIN}
        for name, command in steps(python, arguments, notebooks=bool(start.course_notebooks())):
            print(f"\n== {name}", flush=True)
            began = time.monotonic()
            code = subprocess.call(command, cwd=ROOT, env={**start.environment(), **own})
            results.append((name, code, time.monotonic() - began))
    print("\n== summary")
    for name, code, seconds in results:
        print(f"{'passed' if code == 0 else 'FAILED':<7} {name} ({seconds:.0f} s)")
    return int(any(code for _, code, _ in results))


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
