"""Whether a kind of callout can be played to its end: its words can be said, and its own plan does the work.

Each check raises JetlibError that names the file, the place in it and what to change.
"""

from dataclasses import fields
from string import Formatter

from jetlib.course.callouts.wall import Setup, plan_from
from jetlib.course.store.checked_row import known, placed
from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.faults import FAULTS
from jetlib.units import both, si
from jetlib.units.refusal import cut

#: m of hose in the pipe before the throttle is opened; common practice, no source
FIRST_MARK = 3.0
NAMES = ("run", "block")  # what may stand in braces in the words of a customer
#: Acts that follow from what is done on any job, so that the common file must have them.
NEEDED_ACTS = ("open", "out", "coupling", "rating", "valve")


def check_kind(kind, name):
    """Nothing, if the Kind of the file `name` is sound; else JetlibError."""
    _can_be_said(kind.call, f"{name}: call")
    for at, each in enumerate(kind.questions, start=1):
        for field in ("answer", "wrong"):
            _can_be_said(getattr(each, field), f"{name}, question {at}: {field}")
    missing = next((key for key in NEEDED_ACTS if key not in {act.key for act in kind.acts}), None)
    if missing is not None:
        raise JetlibError(f"common.toml has no act {missing!r}; write one with that key: every job can end so")
    known(kind.good, {each.name for each in fields(Setup)}, f"{name}, good")
    with placed(f"{name}, good"):
        setup = Setup(**kind.good)
    if kind.right == "go":
        _works(kind, setup, name)


def _can_be_said(words, where):
    try:
        parts = list(Formatter().parse(words))
    except ValueError:
        raise JetlibError(f"{where} has a brace without its partner; write {{run}} or {{block}}, or no brace") from None
    for _, field, spec, conversion in parts:
        if field is not None and (field not in NAMES or spec or conversion):
            raise JetlibError(f"{where} has {cut('{' + field + '}')}; only {{run}} and {{block}} can stand in braces")


def _works(kind, setup, name):
    """The plan of the kind, for its longest run: nothing against it, and it gets past the stoppage."""
    drain = kind.drain
    runs = sorted(float(si(each, "length")) for each in drain["run"])
    first, last = drain["block"][0] * runs[0], drain["block"][1] * runs[-1]
    if first < FIRST_MARK + 1.0:
        raise JetlibError(
            f"{name}, drain: block can lie {both(first, 'length', 2)} from the opening; write shares of the run that "
            f"lie {both(FIRST_MARK + 1.0, 'length', 2)} or more into the shortest run"
        )
    plan = plan_from(setup, drain, {"run": runs[-1], "fall": drain["fall"][0], "fill": drain["fill"][0]}, name="")
    if plan.no_go:
        raise JetlibError(f"{name}, good: this plan is a no-go, so nobody could do the job. {plan.no_go[0]}")
    far = float(plan.reach.distance)
    if far < min(last + 1.0, runs[-1]):
        raise JetlibError(
            f"{name}, good: the nozzle gets {both(far, 'length', 2)} in, and the stoppage can lie at "
            f"{both(last, 'length', 2)}; write a plan that gets past it, or another block"
        )
    if "least_flow" in drain and float(plan.point.nozzle_flow) < si(drain["least_flow"], "flow"):
        raise JetlibError(f"{name}, good: the plan gives less than least_flow; write a larger machine, or less flow")
    for at, each in enumerate(kind.surprises, start=1):
        if each.fault and not FAULTS[each.fault].fits(plan.rig):
            raise JetlibError(f"{name}, surprise {at}: the machine of good cannot have the fault {each.fault!r}")
        if each.stop and each.stop * runs[0] < FIRST_MARK:
            raise JetlibError(
                f"{name}, surprise {at}: stop can lie before the first mark; write a share of the run of "
                f"{FIRST_MARK / runs[0]:.2f} or more"
            )
