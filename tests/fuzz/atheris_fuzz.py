"""Feeds one target with inputs that reach new code, for as long as one likes. By hand; Linux, Python 3.11 to 3.13.

    .venv/bin/python tests/fuzz/atheris_fuzz.py TARGET [-max_total_time=60] [folder of a corpus]

TARGET: unit_text, answer, rule_text, rig_file, progress_file, exported_progress, bench_file, vote_file, drill_file or
plan_file. What follows it goes to libFuzzer (https://llvm.org/docs/LibFuzzer.html). A broken promise ends the run and
leaves the input as `crash-…` in the folder it was started from; put it into `strange.py` then, so that the suite
remembers it.
"""

import os
import sys
import tempfile
from pathlib import Path

import atheris

sys.path.insert(0, str(Path(__file__).parent))
with atheris.instrument_imports(include=["jetlib", "fuzz_targets", "tomllib"]):
    import fuzz_targets as targets
import strange

TARGETS = {target.__name__: target for target in (*targets.TEXT_TARGETS, *targets.BYTE_TARGETS)}
SEEDS = {
    "unit_text": [piece for piece in strange.PIECES if piece.strip()],
    "answer": ["8 gpm", "3000 psi", "1-1/4 in", "#60", "a", "2"],
    "rule_text": ["gauge at idle = 0.2 * gauge at full", *(f"{name} = 2 * {name}" for name in strange.QUANTITIES)],
    "rig_file": list(strange.RIG_TEXTS),
    "progress_file": [strange.GOOD_RECORD.decode()],
    "exported_progress": [strange.GOOD_RECORD.decode()],
    "vote_file": [strange.VOTES.decode()],
    "drill_file": ['{"schema": 1, "held": {"board": {"teams": ["a", "b"], "results": []}, "drill": {}}}'],
    "plan_file": list(strange.PLAN_TEXTS),
    "bench_file": ['{"schema": 1, "held": {"rig": {}, "bench": {}}}'],
}


def main():
    name, *rest = sys.argv[1:] or [""]
    if name not in TARGETS:
        sys.exit(f"{name!r} is no target; write one of {', '.join(TARGETS)}")
    target = TARGETS[name]
    in_words = target in targets.TEXT_TARGETS

    def one(data):
        target(data.decode("utf-8", "surrogateescape") if in_words else data)

    if not any(os.path.isdir(each) for each in rest):
        corpus = tempfile.mkdtemp(prefix=f"jetlib-corpus-{name}-")
        print(f"What reaches new code is kept in {corpus}; give that folder the next time to go on from there.")
        for number, seed in enumerate(SEEDS[name]):
            Path(corpus, f"seed-{number}").write_text(seed, encoding="utf-8")
        rest = [*rest, corpus]
    atheris.Setup([sys.argv[0], "-max_len=10000", "-timeout=20", *rest], one)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
