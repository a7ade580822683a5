"""The bench's jets: the best sets of holes that the drills in the box make for this rig, and one drill up or down."""

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.jets.jet_set import JetSet
from jetlib.rig.jets.matching import opening_throttles
from jetlib.rig.jets.one_drill import change_by_one_drill
from jetlib.rig.jets.sizing import size_jets
from jetlib.rig.parts.machine import Jet
from jetlib.rig.parts.part import remembered
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.bench.entries import form as forms
from jetlib.screen.bench.entries.figures import WIDTH, brief
from jetlib.screen.bench.pages import Page
from jetlib.screen.drawing.grid import grid, notice
from jetlib.screen.drawing.picture import stacked
from jetlib.units import Told

_MOST = 8
_HEADS = ("", "holes", ">gauge", ">nozzle", ">bypass", ">nozzle pr.", ">power", ">pull", ">opens")
_LEFTS = (22, 60, 362, 432, 504, 576, 636, 694, 752)
_WEAKER = 0.97  # of the power at the jets, or of nozzle pressure, that is told of
_TWO_STATES = (
    "Now: the jets as they read today. New: the same holes when all is well. Sets and drill steps are of new holes."
)
_STEP_HEADS = ("group and drill", ">gauge", "", ">nozzle", "", ">pull", "")
_STEP_LEFTS = (22, 250, 260, 420, 430, 594, 604)


def draw(state):
    """The Picture of the jets of a BenchState."""
    system, sets, steps = state.system, sets_of(state), _steps(state)
    chosen, new = int(state.value("set")) - 1, state.rig_for_new_jets
    now, worn = operating_point(state.shown.rig), new is not state.shown.rig
    found = [("now", _holes_now(state), now), *([("new", _holes_now(state), operating_point(new))] if worn else [])]
    found += [(str(number), each.label.replace(" × ", "×"), each) for number, each in enumerate(sets, start=1)]
    found += [("own", label, operating_point(rig)) for label, rig in own_nozzles(state)]
    opens = _openings(now.rig, [each.rig.nozzle for *_, each in found])
    rows = [_row(*each, at, system) for each, at in zip(found, opens, strict=True)]
    title = f"Best of {sets.considered:,} sets at full throttle" if sets else "No set of these drills meets this"
    weaker = _weaker(now, sets)
    parts = [
        notice(title, WIDTH, colour=""),
        grid(_HEADS, rows, _LEFTS, width=WIDTH, chosen=chosen + 1 + worn if chosen < len(sets) else None),
    ]
    for told in ("" if sets else sets.advice, _TWO_STATES if worn else "", weaker):
        parts += [notice(told, WIDTH, colour="", weight="normal")] if told else []
    if steps:
        title = f"What one drill size up or down in one group changes{', against new holes' if worn else ''}"
        step_rows = [_step_row(each, system) for each in steps]
        parts += [notice(title, WIDTH, colour=""), grid(_STEP_HEADS, step_rows, _STEP_LEFTS, width=WIDTH)]
    told = [_TWO_STATES] if worn else []
    return stacked(" ".join([*told, f"{_words(sets, steps, chosen, system)} {weaker}".strip()]), *parts)


def own_nozzles(state):
    """(label, Rig) of each nozzle the reader has, on this rig, its holes as good as the rig's own."""
    rig = state.rig_for_new_jets
    like = rig.nozzle.jets[0] if rig.nozzle.jets else Jet(bore=0.001)
    ahead = next((jet.angle for jet in rig.nozzle.jets if jet.angle > np.pi / 2), np.pi)
    for label, groups in state.value("nozzles"):
        jets = [
            like.replace(bore=bore, count=count, name="", angle=ahead if front else min(like.angle, np.pi / 2))
            for count, bore, front in groups
        ]
        yield label, rig.with_jets(jets)


def _weaker(now, sets):
    """What number one costs against the present jets, a sentence; "" where it costs nothing."""
    if not sets:
        return ""
    then = sets[0]
    pairs = (("power at the jets", now.power_shares["jets"], then.jet_power),
             ("nozzle pressure", now.nozzle_pressure, then.nozzle_pressure))  # fmt: skip
    less = [f"{100 * (1 - b / a):.0f} % less {name}" for name, a, b in pairs if a > 0 and b < _WEAKER * a]
    if not less:
        return ""
    return f"NOTE: number 1 has {' and '.join(less)} than the jets on the rig now. It may cut less: compare the aims."


def put_on(state):
    """Put the chosen set on the rig; a sentence for the reader."""
    sets, chosen = sets_of(state), int(state.value("set")) - 1
    if chosen >= len(sets):
        return "There is no set of that number." if sets else f"There is no set to fit: {sets.advice}"
    jets = []
    for group, jet in zip(sets[chosen].groups, (jet for jet in sets[chosen].nozzle.jets if jet.count), strict=True):
        texts = forms.texts_of("jets", jet, state.system)
        jets.append({**texts, "name": group.end, "count": str(group.count), "bore": group.drill.label})
    state.take_form({**state.form, "jets": jets})
    return f"On the rig now: {sets[chosen].label}. Undo brings the old jets back."


_ENTRIES = ("drills", "nozzles", "aim", "rear_holes", "front_holes", "keep_pull", "set")
PAGE = Page(_ENTRIES, draw, (("Put this set on the rig", put_on),))


def sets_of(state):
    """The JetSets for pump, hose and valve as shown, and for new holes, which are not worn."""
    names = ("drills", "rear_holes", "front_holes", "keep_pull", "aim")
    return _sets(state.rig_for_new_jets, *(state.value(name) for name in names))


@remembered(8)
def _sets(rig, drills, rear, front, pull, aim):
    return size_jets(rig, drills=drills, rear_holes=rear, front_holes=front, keep_pull=pull, aim=aim, top=_MOST)


def _steps(state):
    try:
        return change_by_one_drill(state.rig_for_new_jets, drills=state.value("drills"))
    except JetlibError:
        return ()


def _holes_now(state):
    groups = [f"{jet['count']}×{jet['bore']} {jet['name']}".strip() for jet in state.form["jets"]]
    return _short(" + ".join(groups) or "no jets")


def _short(words):
    words = words.replace(" rear + ", " + ", 1) if words.count(" rear") == 2 else words  # both are rear
    return words if len(words) <= 35 else words[:34] + "…"


def _openings(rig, nozzles):
    """Throttles at which the valve opens with each of some nozzles on a rig; more than 1 where it never does."""
    areas = np.array([each.effective_area for each in nozzles])
    opens, some = np.full(len(nozzles), 2.0), areas > 0
    if rig.unloader is not None and some.any():
        opens[some] = opening_throttles(rig, areas[some])
    return opens


def _row(rank, holes, found, opens, system):
    """The row of a JetSet, or of an OperatingPoint."""
    told, pull = Told(system), found.pull if isinstance(found, JetSet) else found.reaction
    return (
        rank, _short(holes), told.pressure(found.gauge), brief(found.nozzle_flow, "flow", system),
        brief(found.bypass_flow, "flow", system), told.pressure(found.nozzle_pressure),
        brief(found.nozzle_pressure * found.nozzle_flow, "power", system), brief(pull, "force", system),
        f"{100 * opens:.0f} %" if opens <= 1.0 else "never",
    )  # fmt: skip


def _step_row(each, system):
    found = [each.label]
    for name, kind in (("gauge", "pressure"), ("nozzle_flow", "flow"), ("pull", "force")):
        change = getattr(each, f"{name}_change")
        shown = brief(abs(change), kind, system)
        way = "the same" if shown.startswith("0 ") else f"{'up' if change > 0 else 'down'} {shown}"
        found += [brief(getattr(each, name), kind, system), way]
    return found


def _words(sets, steps, chosen, system):
    told = Told(system)
    said = sets.advice
    if sets:
        number = chosen if chosen < len(sets) else 0
        each = sets[number]
        said = (
            f"Best {len(sets)} of {sets.considered:,} sets. Number {number + 1}, {each.label}: gauge "
            f"{told.pressure(each.gauge)}, {told.flow(each.nozzle_flow)} through the nozzle, "
            f"{brief(each.bypass_flow, 'flow', system)} back, pull {told.force(each.pull)}, at full throttle."
        )
    if steps:
        said += " One drill: " + " ".join(f"{each.label}: gauge {told.pressure(each.gauge)}." for each in steps)
    return said + " A hole can be drilled larger, never smaller. " + " ".join(sets.cautions)
