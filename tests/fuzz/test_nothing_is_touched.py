"""A learner's file, a rig file, an answer or a rule runs no code, starts nothing, calls nobody, writes nowhere else."""

import json
import subprocess
import sys
from pathlib import Path

import fuzz_targets
import pytest

WATCH = Path(__file__).with_name("watch.py")


@pytest.fixture(scope="module")
def watched(tmp_path_factory):
    """{target: what it did}, all in one process of their own: to start one costs more than to feed them."""
    command = [sys.executable, str(WATCH), str(tmp_path_factory.mktemp("watched"))]
    return json.loads(subprocess.run(command, capture_output=True, text=True, timeout=300, check=True).stdout)


@pytest.mark.parametrize("name", [each.__name__ for each in (*fuzz_targets.TEXT_TARGETS, *fuzz_targets.BYTE_TARGETS)])
def test_nothing_outside_its_own_folder(name, watched):
    found = watched[name]
    assert found["fed"] > 20
    assert found["outside"] == []
    assert found["left"] == []
    # What has files of its own does write them, so the watch was awake.
    assert bool(found["seen"]) == (name in [each.__name__ for each in fuzz_targets.BYTE_TARGETS])


def test_the_watch_sees_what_is_done(watched):
    found = watched["self_test"]
    told = {entry[0] for entry in found["outside"]}
    assert {"write", "compile", "exec", "os.system"} <= told
    assert found["left"] == ["owned"]
