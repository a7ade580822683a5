"""For a room without a screen: a hidden fault, a sheet for the room and one for the trainer; a callout with the truth.

The room reads gauge and stream on its sheet, buys checks with minutes, and the trainer reads out what each one gives.
"""

from jetlib.course.callouts.deal import deal
from jetlib.course.callouts.kinds import DECISIONS
from jetlib.course.classroom.hidden_fault.deal import STOPS, all_readings, read_words, seeded_hunt
from jetlib.course.classroom.hidden_fault.reveal import SURE, shortest_way, truth_words
from jetlib.course.classroom.hidden_fault.scores import MINUTES, RULE
from jetlib.course.exercises.words import picked
from jetlib.paper.cards.rig import file_part, require_rig, title_of
from jetlib.paper.page.document import INJECTION, MANUAL, Document, Section
from jetlib.paper.page.style import fill
from jetlib.paper.sheets.records import NO_LICENSE
from jetlib.rig.diagnosis.diagnosis import diagnose, percent_words
from jetlib.rig.diagnosis.faults import FAULTS, exact, faults_of
from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.units import text

_SOURCE = "a fault chosen by the seed, calculated by jetlib; minutes are common practice, no source"
_LIKELY = 0.2  # a second cause less likely than this is not named to the trainer
_TOLD = 0.05  # a check that moves no cause by as much tells nothing new
_CAUTION = (
    f"{INJECTION} {MANUAL} This is an exercise on paper: run no machine for it. On a machine, each check has cautions "
    "of its own.",
)
_NUMBERS = (("Gauge", "gauge", "pressure"), ("Flow at the nozzle", "nozzle_flow", "flow"),
            ("Nozzle pressure", "nozzle_pressure", "pressure"))  # fmt: skip


def hidden_fault_sheets(rig, *, seed=1, system="US", paper="A4"):
    """(room, trainer): the Documents of the drill that `seed` (0 to 999999) deals on one Rig.

    The same seed deals the same fault and readings as in the lesson page for a room. Raises JetlibError for a seed
    that is none.
    """
    require_rig(rig, "hidden_fault_sheets(load_rig(path))")
    hunt = seeded_hunt(rig, seed)
    for throttle in STOPS:
        hunt.look(throttle)
    name = f"drill-{file_part(rig)}-seed-{hunt.seed}-{system.lower()}"
    room = Section(f"What is wrong with {title_of(rig)}?", _room(hunt, system), _SOURCE, hunt.seed, card=True)
    title = f"Trainer: {title_of(rig)}, hidden fault {hunt.seed}"
    key = Section(title, _trainer(hunt, system), _SOURCE, hunt.seed, card=True)
    return Document(name, (room,), system, paper), Document(f"{name}-trainer", (key,), system, paper)


def _room(hunt, system):
    heads = ("Throttle", "Gauge, all well", "Gauge, today", "Return flow, today")
    looks = [
        (throttle_name(step.key), _sound(hunt, step.readings[0], system), *_filled(step, system)) for step in hunt.steps
    ]
    checks = [(check.label, f"{hunt.costs[key]:g} min", None, None) for key, check in hunt.checks.items()]
    causes = ", ".join(fault.called for fault in faults_of(hunt.rig))
    return fill("hunt", heads=heads, looks=looks, checks=checks, causes=causes, minutes=f"{MINUTES:g}", lines=_CAUTION)


def _trainer(hunt, system):
    hidden, asked = hunt.hidden, all_readings(hunt.rig)
    free = diagnose(hunt.rig, hunt.readings, checks=asked)
    rows = []
    for check in hunt.checks.values():
        read = hidden.read_all(check.asked(hunt.rig))
        after = diagnose(hunt.rig, [*hunt.readings, *read], checks=asked)
        shown = "; ".join(read_words(each, system) for each in read)
        sound = "; ".join(_sound(hunt, each, system) for each in read)
        rows.append((check.label, shown, sound, _causes(after) if _moved(free, after) else "nothing new"))
    truth = truth_words(hidden.fault, hidden.severity)
    return fill("truth", truth=truth, free=_causes(free), way=_way(hunt), rows=rows, rule=RULE, lines=_CAUTION)


def _filled(step, system):
    shown = [read_words(each, system) for each in step.readings]
    return shown if len(shown) > 1 else [*shown, "no valve"]


def _sound(hunt, asked, system):
    return read_words(exact(asked, hunt.rig, FAULTS["healthy"], 0.0), system)


def _causes(found):
    named = [each for at, each in enumerate(found.causes[:2]) if at == 0 or each.probability >= _LIKELY]
    told = "; ".join(f"{each.fault.called} {percent_words(each.probability)}" for each in named)
    return told.replace(" %", "\u00a0%")


def _moved(before, after):
    """Whether a check changed how likely anything is by enough to speak of."""
    names = {each.fault.name for each in (*before.causes, *after.causes)}
    return any(abs(after.probability(name) - before.probability(name)) >= _TOLD for name in names)


def _way(hunt):
    way = shortest_way(hunt)
    if way is None:
        return "Even with every check some doubt would remain."
    minutes, labels = way
    if not labels:
        return f"That is enough: {100 * SURE:.0f} % or more."
    return f"The cheapest way to {100 * SURE:.0f} %: {' and '.join(labels)}, {minutes:g} minutes."


def callout_sheet(name, *, seed=1, system="US", paper="A4"):
    """The trainer's Document of the callout that `seed` deals of a kind (its id): answers, a plan, and the truth."""
    dealt = deal(name, seed)
    kind = dealt.kind
    asked = []
    for each in kind.questions:
        weight = "WRONG" if each.key == dealt.wrong else "yes" if each.matters else ""
        asked.append((each.ask, dealt.answer(each.key, system), weight))
    acts = [(act.label, picked(act.why, system)) for act in kind.acts if act.when != "by itself"]
    chosen, shown = _plan(dealt, system) if kind.right == "go" else ("", ())
    body = fill("callout", call=dealt.call(system), decision=DECISIONS[kind.right], truth=dealt.truth, asked=asked,
                chosen=chosen, shown=shown, acts=acts, lines=(NO_LICENSE.partition(" Names")[0],))  # fmt: skip
    source = "a callout dealt by the seed, calculated by jetlib"
    section = Section(f"Trainer: {kind.title}", body, source, dealt.seed)
    return Document(f"callout-{name}-seed-{dealt.seed}-{system.lower()}", (section,), system, paper)


def _plan(dealt, system):
    """(a plan that works in words, rows of what it shows when all is well)."""
    setup, plan = dealt.good, dealt.plan(dealt.good)
    wall = setup.wall()
    chosen = [wall[name][getattr(setup, name)] for name in wall if getattr(setup, name)]
    rows = [(words, text(float(getattr(plan.point, name)), kind, system)) for words, name, kind in _NUMBERS]
    rows.append(("How far the nozzle comes", text(plan.reach.distance, "length", system)))
    return f"{'; '.join(chosen)}; throttle {100 * setup.throttle:.0f} %", rows
