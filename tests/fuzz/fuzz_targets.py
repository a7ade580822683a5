"""What strangers can type or hand over, each as a function that must come back whatever it is given.

Each target takes text or bytes and raises AssertionError where the promise is broken: no exception but JetlibError,
a result that is sound, and no more than `LONGEST` seconds of work for 10 kB.
"""

import atexit
import math
import os
import shutil
import tempfile
import time
from functools import cache, wraps
from pathlib import Path

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.hidden_fault.scores import NOW as DRILLS
from jetlib.course.classroom.hidden_fault.scores import HuntStore
from jetlib.course.classroom.session_plan import read_plan
from jetlib.course.classroom.vote_file import VoteFile, begun, unfinished
from jetlib.course.exercises.exercise import Verdict
from jetlib.course.progress.export import read_export
from jetlib.course.progress.progress import Progress
from jetlib.course.store.bench_store import BenchStore
from jetlib.errors import JetlibError
from jetlib.rig.parts.machine import Rig
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs, load_rig
from jetlib.rig.rules.equation import Equation
from jetlib.rig.rules.rules import judge, read_rule
from jetlib.screen.classroom.hidden_fault.console import taken_up
from jetlib.tables.atomic import Unwritable
from jetlib.units import si
from jetlib.units.kinds import KINDS

LONGEST = 1.0  # seconds of processor time: a busy machine does not fail a test
SYSTEMS = ("US", "metric")


@cache
def scratch():
    """A folder of this process's own, removed when it ends."""
    folder = tempfile.mkdtemp(prefix="jetlib-fuzz-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return Path(folder)


def _emptied(name):
    """A folder of the scratch place, without what was in it."""
    folder = scratch() / name
    folder.mkdir(exist_ok=True)
    for each in os.listdir(folder):
        os.unlink(folder / each)
    return folder


def timed(target):
    """The target with its promise about time."""

    @wraps(target)
    def run(given):
        start = time.process_time()
        target(given)
        spent = time.process_time() - start
        assert spent < LONGEST, f"{target.__name__} took {spent:.1f} s over {given[:60]!r}… of {len(given)}"

    return run


@timed
def unit_text(text):
    """A number with a unit, typed where each kind of quantity is asked for."""
    for kind in KINDS:
        try:
            value = si(text, kind)
        except JetlibError as error:
            assert 0 < len(str(error)) < 1000
        else:
            assert type(value) is float and math.isfinite(value), (kind, value)


@timed
def rig_file(data):
    """A rig file from somebody else."""
    path = scratch() / "rig.toml"
    path.write_bytes(data)
    try:
        rig = load_rig(path)
    except JetlibError as error:
        assert str(error).startswith("rig.toml: ") and len(str(error)) < 2000
    else:
        assert isinstance(rig, Rig)


@timed
def progress_file(data):
    """Whatever lies where the progress file should: it opens, goes on, and what was there is still to be had."""
    folder = _emptied("progress")
    (folder / "progress.json").write_bytes(data)
    progress = Progress(folder)
    progress.tally("02")
    progress.warm_up()
    progress.attempt("02-areas-add", 1, Verdict("right", ""))
    assert progress.record.state("02-areas-add") == "done"
    kept = {path.read_bytes() for path in folder.iterdir()}
    assert data in kept or (folder / "progress.previous.json").exists()


@timed
def exported_progress(data):
    """A file that a trainer collects."""
    path = scratch() / "export.json"
    path.write_bytes(data)
    try:
        export = read_export(path)
    except JetlibError as error:
        assert "ask for it again" in str(error)
    else:
        export.record.tally("02", ("02-areas-add",))
        assert export.label.isprintable() and export.when.isprintable()


@timed
def bench_file(data):
    """Whatever lies where the bench keeps what stands on it."""
    folder = _emptied("bench")
    for name in ("bench.json", "bench_saved.json"):
        (folder / name).write_bytes(data)
    store = BenchStore(folder)
    held, words = store.now(lambda bench: "rig" in bench)
    assert held is None or "rig" in held
    assert all(isinstance(each, str) for each in words)
    for kind in ("bench", "readings"):
        assert isinstance(store.saved(kind), dict)


@timed
def vote_file(data):
    """Whatever lies where a session's votes are kept: the next vote is counted, and what was there is kept."""
    folder = _emptied("votes")
    file = VoteFile("monday", folder)
    file.path.write_bytes(data)
    before = file.votes()
    unfinished(folder)
    file.put(begun("02-double-flow", 1, "2030-01-01T00:00:00Z"))
    after = VoteFile("monday", folder).votes()
    assert len(after) == len(before) + 1 and after[-1].question == "02-double-flow"
    assert before or file.path.with_suffix(".damaged-1.csv").exists() or not data.strip() or file.rows()


@timed
def drill_file(data):
    """Whatever lies where the scores of the hidden faults are kept: scores or none, and the page opens."""
    folder = _emptied("drills")
    (folder / DRILLS).write_bytes(data)
    held, words = HuntStore(folder).load()
    assert len(held["board"].teams) >= 2 and all(isinstance(each, str) for each in words)
    taken_up(held.get("drill"), {})
    try:
        HuntStore(folder).keep(held["board"])
    except Unwritable as error:  # a later version's file is left as it is
        assert "later version" in str(error) and (folder / DRILLS).read_bytes() == data


@timed
def plan_file(data):
    """A session plan from another trainer."""
    path = scratch() / "plan.toml"
    path.write_bytes(data)
    try:
        plan = read_plan(path)
    except JetlibError as error:
        assert str(error).startswith("plan") and len(str(error)) < 2000
    else:
        assert plan.minutes == sum(step.minutes for step in plan.steps)


@cache
def variants():
    """One variant of every exercise."""
    return tuple(exercise.variant(1) for exercise in bank.all_exercises())


def _judged(reply):
    for variant in variants():
        for system in SYSTEMS:
            verdict = variant.check(reply, system)
            assert isinstance(verdict, Verdict) and isinstance(verdict.words, str)


@timed
def answer(text):
    """A reply to every exercise: as typed, as one of several, as all cells of a table."""
    _judged(text)
    _judged([text])
    for variant in variants():
        blanks = getattr(variant.exercise, "blanks", ())
        if blanks:
            assert isinstance(variant.check([text] * len(blanks)), Verdict)


@cache
def yard_rig():
    return demo_rig(next(iter(demo_rigs())))


@timed
def rule_text(text):
    """A rule of thumb typed on the page of rules, read and judged on a rig."""
    try:
        equation = read_rule(text)
        assert isinstance(equation, Equation)
        verdict = judge(equation, yard_rig())
    except JetlibError as error:
        assert 0 < len(str(error)) < 2000
    else:
        assert math.isfinite(verdict.true) and math.isfinite(verdict.said)


TEXT_TARGETS = (unit_text, answer, rule_text)
BYTE_TARGETS = (rig_file, progress_file, exported_progress, bench_file, vote_file, drill_file, plan_file)
