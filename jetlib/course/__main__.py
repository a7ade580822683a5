"""`python -m jetlib.course my_questions.toml`: checks the exercises of a trainer's own file, and shows one of each."""

import argparse
import math
import sys
from pathlib import Path

from jetlib.course.banks.registry import FOLDER, exercises_of_file
from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS

SEEDS = 200
_MOST_SAID = 5


def main(arguments=None):
    """0 when every exercise is sound; 2 with what to fix otherwise."""
    asked = _parser().parse_args(arguments)
    for stream in (sys.stdout, sys.stderr):
        stream.reconfigure(errors="replace")  # a window in an old code page has no √
    sound = True
    for name in asked.files:
        try:
            made = exercises_of_file(_path(name))
        except JetlibError as error:
            print(error, file=sys.stderr)
            sound = False
            continue
        for exercise in made:
            found = faults(exercise)
            sound = sound and not found
            for fault in found:
                print(f"{Path(name).name}, {exercise.id}: {fault}", file=sys.stderr)
            if not found:
                print(f"{as_read(exercise.variant(asked.seed), asked.units)}\n")
                print(f"Sound: {exercise.id}, {SEEDS} sets of numbers in US and metric units.\n{'-' * 72}")
    return 0 if sound else 2


def _path(name):
    """The file itself, or the one of that name in data/exercises."""
    return name if Path(name).exists() or not (FOLDER / name).exists() else FOLDER / name


def _parser():
    parser = argparse.ArgumentParser(prog="python -m jetlib.course", description=__doc__.partition(": ")[2])
    parser.add_argument(
        "files", nargs="+", metavar="FILE", help="a TOML file, such as data/exercises/my_questions.toml"
    )
    parser.add_argument("--units", choices=SYSTEMS, default="US", help="units of the set that is shown")
    parser.add_argument("--seed", type=int, default=1, help="which numbers are shown")
    return parser


def faults(exercise, seeds=SEEDS):
    """What to fix, a tuple of sentences; empty for a sound exercise.

    A right reply has to be right, and each mistake told by its name; no two of them alike; all values finite; every
    {name} filled; every mistake has to come up at least once.
    """
    found, met = {}, set()
    for seed in range(seeds):
        try:
            variant = exercise.variant(seed)
            for system in SYSTEMS:
                for fault in _faults_of(variant, system, met):
                    found.setdefault(fault, f"numbers {seed}, {system} units")
        except JetlibError as error:
            found.setdefault(str(error).removeprefix(f"{exercise.id} ").removeprefix(f"{exercise.id}: "), "")
        if len(found) >= _MOST_SAID:
            break
    if not found:
        never = [mistake.name for mistake in exercise.mistakes if mistake.name not in met]
        found |= {f"the mistake {name!r} never comes up; look at its formula and its when": "" for name in never}
    return tuple(f"{fault} ({place})" if place else fault for fault, place in found.items())


def _faults_of(variant, system, met):
    own = variant.in_system(system)
    said = [variant.question(system), variant.hint(1, system), variant.hint(2, system), variant.solution(system)]
    reply = variant.right_reply(system)
    if variant.check(reply, system).status != "right":
        yield f"the right answer, {reply}, is not taken as right"
    for mistake, wrong in variant.wrong_replies(system):
        verdict = variant.check(wrong, system)
        said.append(verdict.words)
        met.add(mistake.name)
        if (verdict.status, verdict.mistake) != ("mistake", mistake.name):
            yield f"the mistake {mistake.name!r}, {wrong}, is taken as {verdict.mistake or verdict.status}"
    numbers = [each for each in own.parameters.values() if isinstance(each, float)]
    if not all(map(math.isfinite, numbers)):
        yield "a number drawn or given is not finite"
    if any(set("{}") & set(words) for words in said):
        yield "a brace { or } is left in what the reader sees"


def as_read(variant, system):
    """A variant as plain text: question, what can be answered, each mistake with its words, hints, solution."""
    exercise, own = variant.exercise, variant.in_system(system)
    lines = [f"{exercise.id}  {exercise.title}", "", variant.question(system), ""]
    if hasattr(exercise, "shown_options"):
        lines += [f"  [{key}] {words}" for key, words in exercise.shown_options(variant, system)]
    if hasattr(exercise, "cells"):
        lines.append("  " + " | ".join(heading for heading, _ in exercise.columns))
        lines += ["  " + " | ".join(cell or "?" for cell in row) for row in exercise.cells(own, system)]
    lines += ["", f"Right: {variant.answer_words(system)}"]
    for mistake, reply in variant.wrong_replies(system):
        typed = ", ".join(reply) if isinstance(reply, list) else reply
        lines.append(f"{typed}: {mistake.name}. {variant.check(reply, system).words}")
    lines += ["", *(f"Hint {number}: {variant.hint(number, system)}" for number in (1, 2))]
    return "\n".join([*lines, "", "Solution:", variant.solution(system)])


if __name__ == "__main__":
    sys.exit(main())
