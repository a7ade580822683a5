"""The bench's job: this rig in that drain, the verdict, the numbers that matter most, and what to settle first."""

from functools import lru_cache
from html import escape

from jetlib.errors import JetlibError
from jetlib.rig.job.job import Job
from jetlib.rig.job.plan import plan_job
from jetlib.rig.parts.part import Same
from jetlib.rig.parts.site import Bend, Drain, Tank
from jetlib.screen.bench.entries.sheet import SHEET, UNSEEN, meaning_of
from jetlib.screen.drawing.plan_sheet import picture_of
from jetlib.units import text as words_of

ENTRIES = (
    "job_name", "debris", "pipe", "run", "fall", "way", "bends", "access", "material", "condition", "branches", "stiff",
    "passes", "outside", "tank", "refill", "suction_bore", "suction_length", "inlet_head",
)  # fmt: skip
_STAND_IN = {"tank": "100 gal", "pipe": "4 in", "run": "150 ft", "fall": "2 %"}
_ASKED = (*ENTRIES, "throttle", "system")


def draw(state):
    """The Picture of the plan of a BenchState."""
    return picture_of(plan_of(state), state.system, findings=False)


def below(state):
    """What to put right and what to settle, as a list that keeps to the width of the page."""
    if still_to_write(state):
        return ""
    told = "".join(
        f"<li>{'<b>NO GO:</b> ' if each.level == 'no-go' else ''}{escape(each.text)}</li>"
        for each in plan_of(state).findings
    )
    return f'<div style="line-height:1.4;max-width:820px"><b>To settle first</b><ul>{told}</ul></div>' if told else ""


def still_to_write(state):
    """Labels of what must be written before there is a job, a list."""
    return [SHEET[name].label for name in UNSEEN if state.value(name) is None]


def plan_of(state, rig=None, *, stand_in=False):
    """The Plan of the job on the sheet with a Rig, by default the one that the pages show. May raise JetlibError.

    stand_in: with figures in place of what is not written, for those who ask only about the machine.
    """
    unknowns, left = state.unknowns if rig is None else None, still_to_write(state)
    rig = state.shown_rig if rig is None else rig
    if left and not stand_in:
        raise JetlibError(f"still to write: {', '.join(left)}")
    texts = (state.held["sheet"][name] or _STAND_IN.get(name, "") for name in _ASKED)
    return _plan(Same(rig), unknowns, tuple(texts))


@lru_cache(maxsize=8)
def _plan(rig, unknowns, texts):
    asked = {name: meaning_of(name, typed) for name, typed in zip(_ASKED, texts, strict=True)}
    run, bends = asked["run"], asked["bends"]
    drain = Drain(
        bore=asked["pipe"],
        length=run,
        fall=asked["fall"],
        name=f"{words_of(asked['pipe'], 'pipe_bore', asked['system'])} pipe",
        nozzle_goes=asked["way"],
        bends=[Bend(run * (number + 1) / (bends + 1)) for number in range(bends)],  # spread evenly
        material=asked["material"],
        condition=asked["condition"],
        branches=asked["branches"],
    )
    job = Job(
        name=asked["job_name"],
        drain=drain,
        tank=Tank(
            asked["tank"],
            refill_flow=asked["refill"],
            suction_bore=asked["suction_bore"],
            suction_length=asked["suction_length"],
            required_suction_head=asked["inlet_head"],
        ),
        debris=asked["debris"],
        access_bore=asked["access"],
        hose_outside=asked["outside"],
        nozzle_length=asked["stiff"],
        passes=asked["passes"],
        throttle=asked["throttle"],
    )
    return plan_job(rig.held, job, unknowns=unknowns)
