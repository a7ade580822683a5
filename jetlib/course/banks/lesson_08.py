"""Predictions, and the exercises that need Python, of lesson 08, reading the gauge."""

from functools import cache
from itertools import pairwise

from jetlib.course.exercises import Mistake, Ordering, PredictedChoice, PredictedCurve
from jetlib.course.exercises.amounts import psi
from jetlib.course.exercises.shapes import choice, predicted
from jetlib.course.exercises.words import percent
from jetlib.course.exercises.worked import worked
from jetlib.rig.change.factors import state
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.diagnosis.faults import FAULTS, THROTTLES, signature
from jetlib.rig.diagnosis.readings import GaugeReading
from jetlib.rig.parts.rig_file import demo_rig


def _hundredths(rng, low, high):
    """A share in whole per cent, both ends among them."""
    return rng.randrange(round(100 * low), round(100 * high) + 1) / 100.0


@cache
def _trailer():
    return demo_rig("yard_trailer")


@cache
def _shows(fault, severity=None):
    """The Signature of a fault on the yard trailer."""
    return signature(_trailer(), fault, severity)


def _gauges(fault, severity=None, prefix=""):
    """{"idle": Pa, "half": Pa, "full": Pa} of a fault on the yard trailer."""
    names = (f"{prefix}{name}" for name in ("idle", "half", "full"))
    return dict(zip(names, _shows(fault, severity).gauge.tolist(), strict=True))


_CARD = "{card_idle} at idle, {card_half} at half throttle and {card_full} at full throttle"
_TODAY = "{idle} at idle, {half} at half throttle and {full} at full throttle"
_GAUGE_KINDS = {f"{card}{name}": "pressure" for card in ("", "card_") for name in ("idle", "half", "full")}


# --- which fault is it ------------------------------------------------------------------------------

_SIZES = {  # fault: least and most drawn
    "jet plugged": (0.15, 0.35),
    "hose narrow": (0.4, 0.9),
    "jets worn": (0.2, 0.4),
    "pump weak": (0.15, 0.35),
    "valve leaking": (0.2, 0.45),
    "valve low": (0.15, 0.35),
    "engine weak": (0.45, 0.6),
    "speed low": (0.15, 0.3),
    "suction starved": (0.2, 0.4),
    "gauge low": (0.22, 0.38),
}
_WORDS = {
    "jet plugged": "A jet is plugged",
    "hose narrow": "The hose is kinked or crushed",
    "jets worn": "The jets are worn",
    "pump weak": "The pump is weak",
    "valve leaking": "The seat of the bypass valve leaks",
    "valve low": "The bypass valve opens too early",
    "engine weak": "The engine is short of power",
    "speed low": "The engine does not reach its rated speed",
    "gauge low": "The gauge reads low",
}
_NAMED = ("jet plugged", "jets worn", "pump weak", "valve leaking", "valve low", "speed low", "gauge low")
_STREAMS = {(False, False, False): "none", (False, False, True): "at full throttle only", (True, True, True): "always"}


def _draw_fault(rng, names):
    fault = rng.choice(names)
    severity = _hundredths(rng, *_SIZES[fault])
    return {"fault": fault, "severity": severity, **_gauges(fault, severity), **_gauges("healthy", prefix="card_")}


def _draw_named(rng):
    p = _draw_fault(rng, _NAMED)
    found = _shows(p["fault"], p["severity"])
    return p | {
        "second": float(found.gauge[2] / FAULTS[p["fault"]].changes(p["severity"]).needle),
        "flow": float(found.nozzle_flow[2]),
        "card_flow": float(found.healthy.nozzle_flow[2]),
        "speed": float(found.speed[2]),
        "card_speed": float(found.healthy.speed[2]),
        "stream": _STREAMS.get(tuple(found.return_seen.tolist()), "at half and full throttle"),
    }


def _taken_for(**wrong):
    """A mistake's `wrong`: {fault with _ for a space: what it is taken for}."""
    pairs = {name.replace("_", " "): taken for name, taken in wrong.items()}
    return lambda p: pairs.get(p["fault"])


NAME_IT = choice(
    "08-name-the-fault",
    f"""
    Name the fault
    ask: The yard trailer's card says {_CARD}, {{card_flow}} out of the nozzle and {{card_speed}} at full throttle, and
        no return flow to the tank.

        Today the gauge reads {_TODAY}. At full throttle a second gauge reads {{second}}, {{flow}} leaves the nozzle,
        and the pump turns at {{speed}}. Return flow to the tank: {{stream}}. One thing is wrong. Which?
    hint: Go through the readings one by one. Which differ from the card, and at which throttles?
    hint: Is all the water there? If not, does it return to the tank, and always or at full throttle only? And the pump
        speed?
    jets by habit: A low reading makes people think of jets. But worn jets leave flow and pump speed alone, and both
        gauges agree about them. Look at what else was read.
    flow left out: Look at the flow out of the nozzle. Is any water missing?
    tank return left out: Water is missing at the nozzle, that is right. Now look at the return to the tank: does any
        come back, and at which throttles?
    speed left out: Water is missing, that is right. But look at the pump speed, and at the reading at idle.
    a working valve blamed: The bypass valve does return water at full throttle. Is the valve at fault, or does
        something make the pressure rise early? Look at the readings at idle and half throttle. Do not touch the valve.
    """,
    options=tuple((name, _WORDS[name]) for name in _NAMED),
    answer=lambda p: p["fault"],
    wrong={
        "jets by habit": lambda p: "jets worn" if p["fault"] not in ("jets worn", "jet plugged") else None,
        "flow left out": _taken_for(jets_worn="pump weak", gauge_low="pump weak"),
        "tank return left out": _taken_for(valve_leaking="pump weak", valve_low="speed low"),
        "speed left out": _taken_for(speed_low="pump weak"),
        "a working valve blamed": _taken_for(jet_plugged="valve low"),
    },
    solution=lambda p, show: (
        "\n".join(_shows(p["fault"], p["severity"]).sentences[1:])
        + f"\n\n{_WORDS[p['fault']]}: {_REASONS[p['fault']]}"
    ),
    skills=("signature",),
    given=None,
    draw=_draw_named,
    shown=_GAUGE_KINDS
    | {"second": "pressure", "flow": "flow", "card_flow": "flow", "speed": "speed", "card_speed": "speed"},
)  # fmt: skip

_REASONS = {
    "jet plugged": "less area, so the reading is high while the bypass valve is shut, and the valve opens early.",
    "jets worn": "more area, so both gauges read low everywhere, with all the water still there.",
    "pump weak": "water is missing at every throttle, at the right pump speed, and none returns to the tank.",
    "valve leaking": "water is missing at the nozzle at every throttle, and returns to the tank.",
    "valve low": "all is well until the pressure reaches the new opening pressure; from there on water returns.",
    "speed low": "idle is right, and the more throttle, the more is missing, just as the pump speed is.",
    "gauge low": "flow, pump speed and second gauge are right; only this gauge is off, by the same share everywhere.",
}

_ALIKE = {
    "all low by the same share": ("jets worn", "pump weak", "valve leaking", "gauge low"),
    "high until the bypass valve opens": ("jet plugged", "hose narrow"),
    "low at full throttle only": ("valve low", "engine weak"),
}
_UNSURE = tuple(name for group in _ALIKE.values() for name in group)


def _group(p):
    return next(group for group in _ALIKE.values() if p["fault"] in group)


def _other_group(p):
    names = tuple(_ALIKE.values())
    return {names[0]: names[1], names[1]: names[0], names[2]: names[0]}[_group(p)]


CANNOT_TELL = choice(
    "08-cannot-tell",
    f"""
    Which of them could it be?
    ask: The yard trailer's card says {_CARD}. Today the gauge reads {_TODAY}. You have checked nothing else. Which of
        these could it be?
    hint: Work out how far each of the three is off the card, as a share. Are they alike, or is one end different?
    hint: Then ask of each suspect: would it show just that, at some size?
    only one found: What you ticked is possible. But the gauge alone does not prove it: what else would show the same?
    needle taken at its word: All that you ticked is possible. There is one more if you do not trust the gauge itself.
    wrong pattern: Those would show another pattern. Compare with the card at each throttle: up or down, and where?
    """,
    many=True,
    options=tuple((name, _WORDS[name]) for name in _UNSURE),
    answer=_group,
    wrong={
        "only one found": lambda p: _group(p)[:1],
        "needle taken at its word": lambda p: _group(p)[:3] if len(_group(p)) == 4 else None,
        "wrong pattern": _other_group,
    },
    solution=worked(
        _GAUGE_KINDS,
        "Today's reading divided by the card's:",
        *((f"At {name}: {{{name}}} / {{card_{name}}}", f"{name}_share", None) for name in ("idle", "half", "full")),
        lambda p: [f"\nThis pattern: {next(words for words, group in _ALIKE.items() if group == _group(p))}.\n"],
        lambda p: [f"It could be any of these: {'; '.join(_WORDS[name].lower() for name in _group(p))}."],
        "The gauge alone cannot tell which.",
    ),
    skills=("look-alikes",),
    draw=lambda rng: _draw_fault(rng, _UNSURE),
    given=None,
    shown=_GAUGE_KINDS,
)

_PAIRS = {  # two suspects with the same gauge: the check that tells them apart
    ("jets worn", "pump weak"): "flow",
    ("pump weak", "valve leaking"): "return",
    ("gauge low", "jets worn"): "second",
    ("speed low", "suction starved"): "speed",
    ("jet plugged", "hose narrow"): "open",
}
_SUSPECTS = {
    **{name: words[0].lower() + words[1:] for name, words in _WORDS.items()},
    "suction starved": "the pump cavitates because its suction is starved",
}


def _draw_pair(rng):
    pair = rng.choice(tuple(_PAIRS))
    fault = rng.choice(pair)
    return {
        "fault": fault,
        "one": pair[0],
        "other": pair[1],
        "one_words": _SUSPECTS[pair[0]],
        "other_words": _SUSPECTS[pair[1]],
        "full": float(_shows(fault, _hundredths(rng, *_SIZES[fault])).gauge[2]),
        "card_full": float(_shows("healthy").gauge[2]),
    }


def _parting_check(p):
    return _PAIRS[p["one"], p["other"]]


def _unless_right(key):
    return lambda p: key if _parting_check(p) != key else None


_PARTING = {
    "flow": "worn jets still pass all the water; a weak pump does not deliver it.",
    "return": "with both, water is missing at the nozzle; only a leaking seat sends it back to the tank.",
    "second": "with worn jets both gauges agree that the pressure is low; with a bad gauge they do not agree.",
    "speed": "with both, water is missing, more at full throttle than at idle; only one slows the pump.",
    "open": "with the nozzle off, plugged jets are out of the way, and a narrow place in the hose is not. Stop the "
    "pump and relieve the pressure before the nozzle comes off, and secure the end fitting: a loose hose whips. A look "
    "at nozzle and hose, with the pump stopped, would tell them apart too.",
}

NEXT_CHECK = choice(
    "08-next-check",
    """
    One check that tells them apart
    ask: At full throttle the gauge of the yard trailer reads {full}; the card says {card_full}. Two suspects are left:
        {one_words}, or {other_words}. You have time for one check. Which one tells them apart?
    hint: Say for each suspect what every check on the list would show.
    hint: A check that shows the same for both is wasted. Look for the one where they differ most.
    option flow: Time the flow out of the nozzle, by the fall of the tank level
    option return: Look at the return to the tank
    option second: Read a second gauge, known to be good
    option speed: Measure the pump speed with a tachometer
    option open: Read the gauge with the nozzle off, as far as the manual allows it
    option again: Read the gauge at full throttle once more
    the same once more: The same reading tells you the same again. Both suspects would show it.
    flow measured by habit: A good check, but for this pair it shows nearly the same either way.
    needle doubted: A second gauge shows whether the first one is wrong. Would either of these two make it wrong?
    """,
    answer=_parting_check,
    wrong={
        "the same once more": "again",
        "flow measured by habit": _unless_right("flow"),
        "needle doubted": _unless_right("second"),
    },
    solution=lambda p, show: (
        f"The suspects: {p['one_words']}, or {p['other_words']}.\n\n"
        f"What tells them apart: {_PARTING[_parting_check(p)]}"
    ),
    skills=("next check",),
    draw=_draw_pair,
    given=None,
    shown={"full": "pressure", "card_full": "pressure"},
)  # fmt: skip

# --- an order ---------------------------------------------------------------------------------------

_IN_A_ROW = {
    "sound": ("healthy", "Everything is in order"),
    "plugged": ("jet plugged", "{plugged} of the jets' area is plugged"),
    "worn": ("jets worn", "The jets have {worn} more area"),
    "weak": ("pump weak", "The pump has lost {weak} of its flow"),
    "needle": ("gauge low", "The gauge reads {needle} too little"),
}
_OFF = tuple(_IN_A_ROW)[1:]


def _half_gauge(p, key):
    return float(_shows(_IN_A_ROW[key][0], p.get(key)).gauge[1])


def _in_order(value):
    return lambda p: tuple(sorted(_IN_A_ROW, key=lambda key: value(p, key)))


_by_half_gauge = _in_order(_half_gauge)


def _silly_order(p):
    gauges = [_half_gauge(p, key) for key in _by_half_gauge(p)]
    return any(high < 1.08 * low for low, high in pairwise(gauges))


def _order_line(p, show, key):
    words = _IN_A_ROW[key][1].format(**{name: percent(p[name]) for name in _OFF})
    return f"{words}: {show(_half_gauge(p, key), 'pressure')}"


ORDER = Ordering(
    id="08-order-by-gauge",
    title="From the lowest gauge reading to the highest",
    skills=("signature",),
    draw=lambda rng: {key: _hundredths(rng, 0.1, 0.45) for key in _OFF},
    reject=_silly_order,
    shown=dict.fromkeys(_OFF, "fraction"),
    ask="The yard trailer at half throttle, five mornings. Put them in order, the lowest gauge reading first.",
    options=tuple((key, words) for key, (_, words) in _IN_A_ROW.items()),
    answer=_by_half_gauge,
    mistakes=(
        Mistake(
            "ratio upside down",
            "Your order is the wrong way around. The lowest reading is first.",
            lambda p: _by_half_gauge(p)[::-1],
        ),
        Mistake(
            "ordered by the size of the number",
            "You put them in order by their per cent. A gauge is off by its per cent; flow and area count twice, and "
            "not all of them lower the reading.",
            _in_order(lambda p, key: -p.get(key, 0.0)),
        ),
        Mistake(
            "plugged taken to lower the gauge",
            "Most of it is right. But does less area make the reading fall?",
            _in_order(lambda p, key: _half_gauge(p, key) * ((1.0 - p[key]) ** 4 if key == "plugged" else 1.0)),
        ),
    ),
    hints=(
        "One of them raises the reading, three lower it.",
        "Gauge: subtract its share. Flow: what is left, squared. Area: divide twice by what it has become.",
    ),
    solution=lambda p, show: (
        "At half throttle:\n\n" + "\n".join(_order_line(p, show, key) for key in _by_half_gauge(p))
    ),
)  # fmt: skip


EXERCISES = (ORDER, NAME_IT, CANNOT_TELL, NEXT_CHECK)

# --- predictions ------------------------------------------------------------------------------------

_MONDAY = ("pump weak", 0.15)


def monday():
    """What the lesson's story reads on Monday morning: GaugeReadings of the trailer at idle, half and full throttle."""
    return [GaugeReading(value, throttle) for value, throttle in zip(_shows(*_MONDAY).gauge, THROTTLES, strict=True)]


def _monday_answer(p):
    """The one cause the readings leave, or that they leave several."""
    tied = diagnose(_trailer(), monday()).tied
    return tied[0].name if len(tied) == 1 else "several"


MONDAY = predicted(
    PredictedChoice,
    "08-monday",
    f"""
    Monday morning
    ask: The yard trailer's card says {_CARD}. On Monday the gauge reads {_TODAY}. What is
        wrong?
    option jets worn: The jets are worn
    option pump weak: The pump is weak
    option valve leaking: The bypass valve leaks
    option gauge low: The gauge reads low
    option several: These readings do not tell
    because: All three are down by the same share. Worn jets do that. So does a pump that delivers too little, a bypass
        valve that leaks, and a gauge that reads low. The gauge cannot tell them apart. Saying so is the right answer.
    """,
    parameters={**_gauges("healthy", prefix="card_"), **_gauges(*_MONDAY)},
    shown=_GAUGE_KINDS,
    answer=_monday_answer,
)


def _plugged_gauge(p, throttle):
    gone = FAULTS["jet plugged"].changes(p["gone"])
    found = state(_trailer(), gone, [throttle] if isinstance(throttle, float) else throttle).gauge
    return float(found[0]) if isinstance(throttle, float) else found


PLUGGED_CURVE = predicted(
    PredictedCurve,
    "08-plugged-curve",
    f"""
    20 % of the jets plugged
    ask: The yard trailer's card says {_CARD}; its bypass valve opens at {{setting}}. Now a stone plugs {{gone}} of the
        jets' area. Sketch the gauge reading against the throttle.
    because: 80 % of the area needs 1.25 × 1.25 = 1.56 times the pressure at the jets, at idle and half throttle alike.
        Before full throttle that is above the valve's setting, and from there the bypass valve holds the gauge reading.
        So at full throttle the fault hardly shows: look at idle and half.
    """,
    parameters={"gone": 0.2, "setting": psi(2800), **_gauges("healthy", prefix="card_")},
    shown={**_GAUGE_KINDS, "gone": "fraction", "setting": "pressure"},
    x=("throttle", "fraction"),
    y=("gauge reading", "pressure"),
    xs=(0.0, 0.25, 0.5, 0.75, 1.0),
    top=psi(3500),
    answer=_plugged_gauge,
)


def _differs(p):
    """At which of idle, half and full throttle a gauge with the tired spring is off the card by more than 2 %."""
    found = _shows("valve low", round(1.0 - p["opens"] / p["setting"], 6))
    off = [abs(value / usual - 1.0) > 0.02 for value, usual in zip(found.gauge, found.healthy.gauge, strict=True)]
    return {(True, True, True): "all", (False, True, True): "half and full", (False, False, True): "full"}.get(
        tuple(off), "none"
    )


LOW_VALVE = predicted(
    PredictedChoice,
    "08-low-valve",
    f"""
    A bypass valve with a tired spring
    ask: The yard trailer's card says {_CARD}. The spring of its bypass valve gets tired: it now opens at {{opens}}
        instead of {{setting}}. Which of the three readings will show it?
    option all: All three, by the same share
    option half and full: Half and full throttle
    option full: Full throttle alone
    option none: None of them
    because: Below its setting a bypass valve does not act, tired or not. At idle and half throttle the reading stays
        below both settings, so it does not change. At full throttle it would be above the new setting.
    """,
    parameters={"opens": psi(2100), "setting": psi(2800), **_gauges("healthy", prefix="card_")},
    shown={**_GAUGE_KINDS, "opens": "pressure", "setting": "pressure"},
    answer=_differs,
)

PREDICTIONS = (MONDAY, PLUGGED_CURVE, LOW_VALVE)
