"""A learner's file, a rig file, an answer or a rule runs no code, starts nothing, calls nobody, writes nowhere else."""

import json
import subprocess
import sys
from pathlib import Path

import fuzz_targets
import pytest

WATCH = Path(__file__).with_name("watch.py")


def watched(folder, name):
    found = subprocess.run(
        [sys.executable, str(WATCH), str(folder), name], capture_output=True, text=True, timeout=300, check=True
    )
    return json.loads(found.stdout)


@pytest.mark.parametrize("name", [each.__name__ for each in (*fuzz_targets.TEXT_TARGETS, *fuzz_targets.BYTE_TARGETS)])
def test_nothing_outside_its_own_folder(name, tmp_path):
    found = watched(tmp_path, name)
    assert found["fed"] > 20
    assert found["outside"] == []
    assert found["left"] == []
    # What has files of its own does write them, so the watch was awake.
    assert bool(found["seen"]) == (name in [each.__name__ for each in fuzz_targets.BYTE_TARGETS])


def test_the_watch_sees_what_is_done(tmp_path):
    found = watched(tmp_path, "self_test")
    told = {entry[0] for entry in found["outside"]}
    assert {"write", "compile", "exec", "os.system"} <= told
    assert found["left"] == ["owned"]
