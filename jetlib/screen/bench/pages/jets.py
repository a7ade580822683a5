"""The bench's jets: the best sets of holes that the drills in the box make for this rig, and one drill up or down."""

from functools import lru_cache
from textwrap import wrap

import numpy as np

from jetlib.errors import JetlibError
from jetlib.rig.jets.matching import opening_throttles
from jetlib.rig.jets.one_drill import change_by_one_drill
from jetlib.rig.jets.sizing import size_jets
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.bench.entries import form as forms
from jetlib.screen.bench.entries.bars import WIDTH, brief
from jetlib.screen.bench.entries.part_entries import new_part
from jetlib.screen.drawing.chart import HALO, text
from jetlib.screen.drawing.grid import grid
from jetlib.screen.drawing.picture import stacked
from jetlib.units import text as words_of

ROWS = (("drills",), ("rear_holes", "front_holes", "keep_pull"), ("set",))
_MOST = 8
_HEADS = ("", "holes", ">gauge", ">nozzle", ">bypass", ">nozzle pr.", ">pull", ">opens at")
_LEFTS = (22, 58, 398, 472, 540, 620, 684, 748)
_STEP_HEADS = ("group and drill", ">gauge", "", ">nozzle", "", ">pull", "")
_STEP_LEFTS = (22, 270, 282, 432, 444, 590, 602)


def draw(state):
    """The Picture of the jets of a BenchState."""
    system, sets, steps = state.system, sets_of(state), _steps(state)
    chosen = int(state.value("set")) - 1
    now = operating_point(state.shown_rig)
    opens = _openings(now.rig, [now.rig.nozzle, *(each.nozzle for each in sets)])
    values = (now.gauge, now.nozzle_flow, now.bypass_flow, now.nozzle_pressure, now.reaction)
    rows = [_row("now", _holes_now(state), values, opens[0], system)]
    for number, each in enumerate(sets, start=1):
        values = (each.gauge, each.nozzle_flow, each.bypass_flow, each.nozzle_pressure, each.pull)
        rows.append(_row(str(number), each.label.replace(" × ", "×"), values, opens[number], system))
    title = f"Full throttle. Best sets of {sets.considered:,} that these drills make, best first"
    table = grid(_HEADS, rows, _LEFTS, width=WIDTH, chosen=chosen + 1 if chosen < len(sets) else None)
    parts = [_title(title), table] if sets else [_title("No set of these drills meets this"), _why(sets.advice)]
    step_rows = [_step_row(each, system) for each in steps]
    if step_rows:
        parts += [_title("What one drill size up or down in one group changes"),
                  grid(_STEP_HEADS, step_rows, _STEP_LEFTS, width=WIDTH)]  # fmt: skip
    return stacked(_words(state, sets, steps, chosen, system), *parts)


def put_on(state):
    """Put the chosen set on the rig; a sentence for the reader."""
    sets, chosen = sets_of(state), int(state.value("set")) - 1
    if chosen >= len(sets):
        return "There is no set of that number." if sets else f"There is no set to fit: {sets.advice}"
    jets = []
    for group, jet in zip(sets[chosen].groups, _open_jets(sets[chosen].nozzle.jets), strict=True):
        given = {name: forms.exact_text(getattr(jet, name), kind, state.system) for name, kind in _TEXTS.items()}
        jets.append(new_part("jets", name=group.end, count=str(group.count), bore=group.drill.label, **given))
    state.take_form({**state.form, "jets": jets})
    return f"On the rig now: {sets[chosen].label}. Undo brings the old jets back."


_TEXTS = {"angle": "angle", "discharge_coefficient": "fraction", "velocity_coefficient": "fraction"}


def _open_jets(jets):
    return [jet for jet in jets if jet.count]


def sets_of(state):
    """The JetSets for pump, hose and valve as shown, and for new holes, which are not worn."""
    names = ("drills", "rear_holes", "front_holes", "keep_pull")
    return _sets(_Held(state.rig_for_new_jets), *(state.value(name) for name in names))


class _Held:
    """A rig to remember a result by: what is equal counts as the same."""

    def __init__(self, rig):
        self.rig, self.key = rig, repr(rig)

    def __eq__(self, other):
        return self.key == other.key

    def __hash__(self):
        return hash(self.key)


@lru_cache(maxsize=8)
def _sets(held, drills, rear, front, pull):
    return size_jets(held.rig, drills=drills, rear_holes=rear, front_holes=front, keep_pull=pull, top=_MOST)


def _steps(state):
    try:
        return change_by_one_drill(state.rig_for_new_jets)
    except JetlibError:
        return ()


def _holes_now(state):
    groups = [f"{jet['count']}×{jet['bore']} {jet['name']}".strip() for jet in state.form["jets"]]
    words = " + ".join(groups) or "no jets"
    return words if len(words) <= 44 else words[:43] + "…"


def _openings(rig, nozzles):
    """Throttles at which the valve opens with each of some nozzles on a rig; more than 1 where it never does."""
    areas = np.array([each.effective_area for each in nozzles])
    opens, some = np.full(len(nozzles), 2.0), areas > 0
    if rig.unloader is not None and some.any():
        opens[some] = opening_throttles(rig, areas[some])
    return opens


def _row(rank, holes, values, opens, system):
    gauge, nozzle, bypass, at_the_jets, pull = values
    return (
        rank, holes, words_of(gauge, "pressure", system), brief(nozzle, "flow", system), brief(bypass, "flow", system),
        words_of(at_the_jets, "pressure", system), brief(pull, "force", system),
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


def _title(words):
    return f'<g style="{HALO}">{text(14, 20, words, weight="bold")}</g>', WIDTH, 28


def _why(advice):
    lines = wrap(advice, 108)
    return "".join(text(14, 18 + 18 * at, line) for at, line in enumerate(lines)), WIDTH, 26 + 18 * len(lines)


def _words(state, sets, steps, chosen, system):
    if not sets:
        said = sets.advice
    else:
        each = sets[chosen] if chosen < len(sets) else sets[0]
        said = (
            f"Best {len(sets)} of {sets.considered:,} sets. Number {sets.sets.index(each) + 1}, {each.label}: gauge "
            f"{words_of(each.gauge, 'pressure', system)}, {words_of(each.nozzle_flow, 'flow', system)} through the "
            f"nozzle, {brief(each.bypass_flow, 'flow', system)} back, pull "
            f"{words_of(each.pull, 'force', system)}, at full throttle."
        )
    if steps:
        said += " One drill: " + " ".join(
            f"{each.label}: gauge {words_of(each.gauge, 'pressure', system)}." for each in steps
        )
    return said + " A hole can be drilled larger, never smaller. " + " ".join(sets.cautions)
