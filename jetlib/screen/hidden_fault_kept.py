"""A drill under way as plain values, so that it goes on after the kernel has stopped."""

import contextlib

from jetlib.course.fault_drill import seeded_drill
from jetlib.course.fault_drill_scores import Answer
from jetlib.rig.faults import FAULTS
from jetlib.screen.room_rigs import rig_of


def kept_drill(drill, rig_key, answers):
    """What it takes to go on with a drill that a seed dealt; None for one that a trainer set: that stays secret."""
    if drill.seed is None:
        return None
    return {
        "rig": rig_key,
        "seed": drill.seed,
        "steps": [[step.key, step.minutes] for step in drill.steps],
        "answers": {team: [each.named, each.sure, each.minute] for team, each in answers.items()},
    }


def taken_up(kept, costs):
    """(drill, answers, key of the rig) from what was kept; None where it cannot be gone on with."""
    with contextlib.suppress(Exception):  # whatever a damaged file holds, a fresh drill can be dealt
        drill = seeded_drill(rig_of(kept["rig"]), kept["seed"], costs=costs)
        for key, minutes in kept["steps"]:
            step = drill.look(key) if isinstance(key, float) else drill.spend(key)
            step.minutes = float(minutes)
        answers = {team: Answer(named, bool(sure), float(at)) for team, (named, sure, at) in kept["answers"].items()}
        if all(answer.named in FAULTS for answer in answers.values()):
            return drill, answers, kept["rig"]
    return None
