"""`python -m jetlib.course my_questions.toml`: checks the exercises of a trainer's own file, and shows one of each."""

import argparse
import sys
from pathlib import Path

from jetlib.course.banks.registry import FOLDER, exercises_of_file
from jetlib.course.exercises.soundness import SEEDS, as_read, faults
from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS


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


if __name__ == "__main__":
    sys.exit(main())
