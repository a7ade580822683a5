"""A drill with a hidden fault for a room without a screen: a sheet for the room, and one for the trainer.

The room reads gauge and stream on its sheet, buys checks with minutes, and the trainer reads out what each one gives.
"""

from jetlib.course.classroom.hidden_fault.checks import STOPS, all_readings
from jetlib.course.classroom.hidden_fault.deal import seeded_hunt
from jetlib.course.classroom.hidden_fault.reveal import SURE, shortest_way, truth_words
from jetlib.course.classroom.hidden_fault.scores import MINUTES, RULE
from jetlib.course.classroom.hidden_fault.words import cause_words, read_words
from jetlib.paper.cards.rig_words import file_part, require_rig, title_of
from jetlib.paper.page.document import INJECTION, MANUAL, Document, Section, require
from jetlib.paper.page.style import caution, fill, table
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.diagnosis.faults import FAULTS, faults_of
from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.rig.diagnosis.shown import exact

_SOURCE = "a fault chosen by the seed, calculated by jetlib; minutes are common practice, no source"
_LIKELY = 0.2  # a second cause less likely than this is not named to the trainer
_TOLD = 0.05  # a check that moves no cause by as much tells nothing new
_ONLY = "This is an exercise on paper: run no machine for it. On a machine, each check has cautions of its own."


def hidden_fault_sheets(rig, *, seed=1, system="US", paper="A4"):
    """(room, trainer): the Documents of the drill that `seed` (0 to 999999) deals on one Rig.

    The same seed deals the same fault and readings as in the lesson page for a room. Raises JetlibError for a seed
    that is none.
    """
    require(system, paper)
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
    causes = ", ".join(map(cause_words, faults_of(hunt.rig)))
    return "\n".join(
        [
            caution(f"{INJECTION} {MANUAL} {_ONLY}"),
            '<p class="answer">Name <span class="fill"></span>&emsp;First guess <span class="fill"></span></p>',
            f'<div class="beside">{table(heads, looks, numbers=(1, 2), style="close")}',
            f'<p class="small">It is one of these, of some size: {fill("plain", words=causes)}.</p></div>',
            f"<p>You have {MINUTES:g} minutes: say which check you buy, and the trainer says what it reads.</p>",
            table(
                ("Check", "Costs", "Reads", "So it is not"), checks, style="wide close write", widths=(34, 12, 22, 32)
            ),
            '<p class="answer">In the end it is <span class="fill"></span>&emsp;<span class="box"></span>sure&emsp;'
            '<span class="box"></span>a guess</p>',
        ]
    )


def _trainer(hunt, system):
    hidden, asked = hunt.hidden, all_readings(hunt.rig)
    free = diagnose(hunt.rig, hunt.readings, checks=asked)
    rows = []
    for check in hunt.checks.values():
        read = tuple(hidden.read(each) for each in check.asked(hunt.rig))
        after = diagnose(hunt.rig, [*hunt.readings, *read], checks=asked)
        rows.append(
            (
                check.label,
                "; ".join(read_words(each, system) for each in read),
                "; ".join(_sound(hunt, each, system) for each in check.asked(hunt.rig)),
                _causes(after) if _moved(free, after) else "nothing new",
            )
        )
    heads = ("Check", "Reads", "All is well", "Likeliest after it")
    return "\n".join(
        [
            f'<p class="verdict">It is this: {fill("plain", words=truth_words(hidden.fault, hidden.severity))}.</p>',
            f"<p>From gauge and return alone: {fill('plain', words=_causes(free))}. {_way(hunt)}</p>",
            "<p>Read out the second column when the room buys a check. The third says why it counts.</p>",
            table(heads, rows, style="wide close fixed", widths=(29, 20, 20, 31)),
            f"<p>{fill('plain', words=RULE)}</p>",
            caution(f"{INJECTION} {MANUAL} {_ONLY}"),
        ]
    )


def _filled(step, system):
    shown = [read_words(each, system) for each in step.readings]
    return shown if len(shown) > 1 else [*shown, "no valve"]


def _sound(hunt, asked, system):
    return read_words(exact(asked, hunt.rig, FAULTS["healthy"], 0.0), system)


def _causes(found):
    named = [each for at, each in enumerate(found.causes[:2]) if at == 0 or each.probability >= _LIKELY]
    return "; ".join(f"{cause_words(each.fault)} {_percent(each.probability)}" for each in named)


def _moved(before, after):
    """Whether a check changed how likely anything is by enough to speak of."""
    names = {each.fault.name for each in (*before.causes, *after.causes)}
    return any(abs(after.probability(name) - before.probability(name)) >= _TOLD for name in names)


def _percent(probability):
    return f"{100 * probability:.0f}\u00a0%" if probability < 0.995 else "over 99\u00a0%"


def _way(hunt):
    way = shortest_way(hunt)
    if way is None:
        return "Even with every check some doubt would remain."
    minutes, labels = way
    if not labels:
        return f"That is enough: {100 * SURE:.0f} % or more."
    return f"The cheapest way to {100 * SURE:.0f} %: {fill('plain', words=' and '.join(labels))}, {minutes:g} minutes."
