"""A drill under way as plain values, so that it goes on after the kernel has stopped."""

import contextlib

from jetlib.course.classroom.hidden_fault.deal import seeded_hunt
from jetlib.course.classroom.hidden_fault.scores import Answer
from jetlib.rig.diagnosis.faults import FAULTS
from jetlib.screen.controls.rig_choice import rig_of


def kept_hunt(hunt, rig_key, answers):
    """What it takes to go on with a drill that a seed dealt; None for one that a trainer set: that stays secret."""
    if hunt.seed is None:
        return None
    return {
        "rig": rig_key,
        "seed": hunt.seed,
        "steps": [[step.key, step.minutes] for step in hunt.steps],
        "answers": {team: [each.named, each.sure, each.minute] for team, each in answers.items()},
    }


def taken_up(kept, costs):
    """(drill, answers, key of the rig) from what was kept; None where it cannot be gone on with."""
    with contextlib.suppress(Exception):  # whatever a damaged file holds, a fresh drill can be dealt
        hunt = seeded_hunt(rig_of(kept["rig"]), kept["seed"], costs=costs)
        for key, minutes in kept["steps"]:
            step = hunt.look(key) if isinstance(key, float) else hunt.spend(key)
            step.minutes = float(minutes)
        answers = {team: Answer(named, bool(sure), float(at)) for team, (named, sure, at) in kept["answers"].items()}
        if all(answer.named in FAULTS for answer in answers.values()):
            return hunt, answers, kept["rig"]
    return None
