"""Practice and predictions of lesson 08, reading the gauge."""

import math
from functools import cache
from itertools import pairwise

from jetlib.course.exercises import (
    FillTable,
    Mistake,
    MultipleChoice,
    Numeric,
    Ordering,
    PredictedChoice,
    PredictedCurve,
    SingleChoice,
    mistakes,
)
from jetlib.course.exercises.words import percent
from jetlib.rig.change.factors import state
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.diagnosis.faults import FAULTS, THROTTLES, signature
from jetlib.rig.diagnosis.readings import GaugeReading
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.units import to_si


def _psi(number):
    return to_si(number, "pressure", "US")


def _gpm(number):
    return to_si(number, "flow", "US")


def _rpm(number):
    return to_si(number, "speed", "US")


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


_CARD = "{card_idle} at idle, {card_half} at half and {card_full} at full throttle"
_TODAY = "{idle} at idle, {half} at half and {full} at full throttle"
_GAUGE_KINDS = {f"{card}{name}": "pressure" for card in ("", "card_") for name in ("idle", "half", "full")}

# --- what is missing --------------------------------------------------------------------------------


def _draw_bucket(rng):
    flow, missing = _gpm(rng.randrange(8, 25) / 2.0), _hundredths(rng, 0.16, 0.45)
    volume = to_si(rng.choice((5, 10)), "volume", "US")
    return {"flow": flow, "volume": volume, "time": float(round(volume / (flow * (1.0 - missing))))}


def _caught_share(p):
    return p["volume"] / p["time"] / p["flow"]


BUCKET = Numeric(
    id="08-bucket-share",
    title="What the bucket misses",
    skills=("bucket test",),
    draw=_draw_bucket,
    reject=lambda p: not 0.15 <= 1.0 - _caught_share(p) <= 0.5,
    shown={"flow": "flow", "volume": "volume", "time": "time"},
    ask="At this speed the pump should give {flow}. Nozzle off, hose end made fast in a drum: it takes {time} to catch "
    "{volume}. What share of the flow is missing?",
    kind="fraction",
    answer=lambda p: 1.0 - _caught_share(p),
    tolerance=0.06,
    mistakes=(
        Mistake(
            "what is there",
            "That is the share that arrives. What share does not?",
            _caught_share,
        ),
        Mistake(
            "share of what was caught",
            "It looks as if what is missing was divided by what was caught. A share of the flow is a share of what "
            "there "
            "should be.",
            lambda p: 1.0 / _caught_share(p) - 1.0,
        ),
        mistakes.imperial_gallon(
            lambda p: 1.0 - mistakes.IMPERIAL_GALLON_RATIO * _caught_share(p) if _caught_share(p) < 0.75 else None
        ),
    ),
    hints=(
        "First the flow that was caught: volume over time, times 60 for a whole minute.",
        "Take it from the flow that should be there, and divide by the flow that should be there.",
    ),
    solution=lambda p, show: (
        f"{show(p['volume'], 'volume')} in {show(p['time'], 'time')} is {show(p['volume'] / p['time'], 'flow')}.\n\n"
        f"Missing: {show(p['flow'] - p['volume'] / p['time'], 'flow')} of {show(p['flow'], 'flow')}, which is "
        f"{show(1.0 - _caught_share(p), 'fraction')}."
    ),
)


def _draw_fall(rng):
    card = rng.randrange(1800, 3000, 50)
    return {
        "flow": _gpm(rng.randrange(8, 25) / 2.0),
        "card": _psi(card),
        "now": _psi(round(card * _hundredths(rng, 0.5, 0.8), -1)),
    }


def _left(p):
    """Gauge today over the gauge on the card."""
    return p["now"] / p["card"]


WEAR = Numeric(
    id="08-worn-area",
    title="How far the jets have worn",
    skills=("square law", "areas add"),
    draw=_draw_fall,
    reject=lambda p: not 0.5 <= _left(p) <= 0.81,
    shown={"flow": "flow", "card": "pressure", "now": "pressure"},
    ask="A machine with next to no hose reads {now} today. The card says {card}. Speed and flow are as on the card, "
    "{flow}, and a second gauge agrees. So it is the jets. By what share has their area grown? Take each jet's Cd as "
    "unchanged.",
    kind="fraction",
    answer=lambda p: math.sqrt(1.0 / _left(p)) - 1.0,
    tolerance=0.06,
    mistakes=(
        Mistake(
            "root left out",
            "The ratio of the gauges is right. But pressure goes with area times area: what has to be done to the "
            "ratio?",
            lambda p: 1.0 / _left(p) - 1.0,
        ),
        Mistake(
            "fall of the gauge",
            "That is how far the gauge has fallen. Area and gauge do not go in step.",
            lambda p: 1.0 - _left(p),
        ),
        mistakes.bore_for_area(
            lambda p: _left(p) ** -0.25 - 1.0,
            "That is how far the bore has grown. The question is about the area: bore times bore.",
        ),
    ),
    hints=(
        "At one flow, pressure goes with one over area times area.",
        "Divide the card's gauge by today's and take the root: so many times the old area. Then take away 1.",
    ),
    solution=lambda p, show: (
        f"{show(p['card'], 'pressure')} / {show(p['now'], 'pressure')} = {1.0 / _left(p):.3g}.\n\n"
        f"The root of it is {math.sqrt(1.0 / _left(p)):.4g}: so many times the area.\n\n"
        f"The area has grown by {show(math.sqrt(1.0 / _left(p)) - 1.0, 'fraction')}."
    ),
)

LOST_WATER = Numeric(
    id="08-lost-water",
    title="How much goes past the jets",
    skills=("square law", "leaking valve"),
    draw=_draw_fall,
    reject=lambda p: not 0.5 <= _left(p) <= 0.78,
    shown={"flow": "flow", "card": "pressure", "now": "pressure"},
    ask="A machine with next to no hose reads {now} today. The card says {card}, at {flow}. The speed is right and the "
    "jets are as fitted, but water comes back to the tank at every throttle. If the pump still gives its {flow}, how "
    "much comes back?",
    kind="flow",
    answer=lambda p: p["flow"] * (1.0 - math.sqrt(_left(p))),
    tolerance=0.05,
    mistakes=(
        mistakes.linear_for_root(lambda p: p["flow"] * (1.0 - _left(p))),
        Mistake(
            "what the jets get",
            "That is what still leaves at the jets. What comes back is the rest.",
            lambda p: p["flow"] * math.sqrt(_left(p)),
        ),
        mistakes.square_for_root(lambda p: p["flow"] * (1.0 - _left(p) ** 2)),
    ),
    hints=(
        "The jets are sound. What flow through them makes today's gauge? Flow goes with the root of pressure.",
        "Take the flow of the jets from the flow of the pump.",
    ),
    solution=lambda p, show: (
        f"{show(p['now'], 'pressure')} / {show(p['card'], 'pressure')} = {_left(p):.3g}, and its root is "
        f"{math.sqrt(_left(p)):.3g}.\n\nThe jets get {math.sqrt(_left(p)):.3g} × {show(p['flow'], 'flow')} = "
        f"{show(p['flow'] * math.sqrt(_left(p)), 'flow')}.\n\n"
        f"The rest comes back: {show(p['flow'] * (1.0 - math.sqrt(_left(p))), 'flow')}."
    ),
)

# --- what a fault would show ------------------------------------------------------------------------


def _draw_plugged(rng):
    return {"count": rng.randrange(4, 9), "gauge": _psi(rng.randrange(900, 1700, 50)), "setting": _psi(2800)}


def _part_gone(p):
    return p["count"] / (p["count"] - 1)


ONE_PLUGGED = Numeric(
    id="08-one-plugged",
    title="One jet of several",
    skills=("areas add", "square law"),
    draw=_draw_plugged,
    reject=lambda p: p["gauge"] * _part_gone(p) ** 2 > 0.97 * p["setting"],
    shown={"gauge": "pressure", "setting": "pressure"},
    ask="A nozzle has {count} equal holes, and next to no hose before it. At half throttle the gauge reads {gauge}. "
    "The valve opens at {setting}. One hole plugs. What should the gauge read at half throttle?",
    kind="pressure",
    answer=lambda p: p["gauge"] * _part_gone(p) ** 2,
    tolerance=0.02,
    mistakes=(
        mistakes.area_for_flow_square(
            lambda p: p["gauge"] * _part_gone(p),
            "It looks as if the gauge was taken to rise in step with the area that is gone. At one flow it goes with "
            "one over area times area.",
        ),
        mistakes.root_for_square(lambda p: p["gauge"] * math.sqrt(_part_gone(p))),
        mistakes.upside_down(lambda p: p["gauge"] / _part_gone(p) ** 2),
        Mistake(
            "opens the valve",
            "It looks as if the valve was taken to open. Work out first what the jets ask for: does it pass the "
            "setting?",
            lambda p: p["setting"],
        ),
    ),
    hints=(
        "The same flow has one hole fewer to leave by. How many times smaller is the area?",
        "Divide the number of holes before by the number after. Square that, and multiply the gauge by it.",
    ),
    solution=lambda p, show: (
        f"{p['count']} holes over {p['count'] - 1} is {_part_gone(p):.4g}, and squared {_part_gone(p) ** 2:.4g}.\n\n"
        f"{_part_gone(p) ** 2:.4g} × {show(p['gauge'], 'pressure')} is "
        f"{show(p['gauge'] * _part_gone(p) ** 2, 'pressure')}. That is below the setting, so the valve stays shut."
    ),
)


def _draw_slow(rng):
    rated = rng.choice((1000, 1450, 1750))
    return {
        "rated": _rpm(rated),
        "speed": _rpm(round(rated * _hundredths(rng, 0.65, 0.88), -1)),
        "card": _psi(rng.randrange(1800, 3000, 50)),
    }


def _speed_ratio(p):
    return p["speed"] / p["rated"]


SLOW_ENGINE = Numeric(
    id="08-slow-engine",
    title="Is the speed all that is wrong?",
    skills=("square law, nearly",),
    draw=_draw_slow,
    reject=lambda p: not 0.64 <= _speed_ratio(p) <= 0.89,
    shown={"rated": "speed", "speed": "speed", "card": "pressure"},
    ask="The card says {card} at full throttle, with the valve shut and the pump at {rated}. Today the pump reaches "
    "{speed} only. If that is all that is wrong, what should the gauge read?",
    kind="pressure",
    answer=lambda p: p["card"] * _speed_ratio(p) ** 2,
    tolerance=0.02,
    mistakes=(
        mistakes.linear_for_square(lambda p: p["card"] * _speed_ratio(p)),
        mistakes.root_for_square(lambda p: p["card"] * math.sqrt(_speed_ratio(p))),
        mistakes.upside_down(lambda p: p["card"] / _speed_ratio(p) ** 2),
        Mistake(
            "speed left out",
            "That is what the card says for its own speed. The pump turns more slowly today.",
            lambda p: p["card"],
        ),
    ),
    hints=(
        "Flow goes with speed, and the gauge nearly with flow squared.",
        "Divide today's speed by the card's, square it, and multiply the card's gauge by it.",
    ),
    solution=lambda p, show: (
        f"{show(p['speed'], 'speed', 4)} / {show(p['rated'], 'speed', 4)} = {_speed_ratio(p):.3g}, and squared "
        f"{_speed_ratio(p) ** 2:.3g}.\n\nSo it should read {show(p['card'] * _speed_ratio(p) ** 2, 'pressure')}. If it "
        "reads less than that by more than a few parts in a hundred, look for something else as well."
    ),
)


def _draw_needle(rng):
    true = rng.randrange(1800, 3000, 50)
    off = rng.choice((-1, 1)) * _hundredths(rng, 0.12, 0.3)
    return {
        "true": _psi(true),
        "shown": _psi(round(true * (1.0 + off), -1)),
        "reading": _psi(round(true * (1.0 + off) * _hundredths(rng, 0.4, 0.65), -1)),
    }


NEEDLE = Numeric(
    id="08-needle",
    title="A gauge that is off by a share",
    skills=("gauge error",),
    draw=_draw_needle,
    shown={"true": "pressure", "shown": "pressure", "reading": "pressure"},
    ask="At full throttle a second gauge, known to be good, shows {true}. The rig's own gauge shows {shown}. It is off "
    "by the same share everywhere. At half throttle the rig's gauge shows {reading}. What is the pressure?",
    kind="pressure",
    answer=lambda p: p["reading"] * p["true"] / p["shown"],
    tolerance=0.02,
    mistakes=(
        mistakes.difference_added(lambda p: p["reading"] + p["true"] - p["shown"]),
        mistakes.upside_down(lambda p: p["reading"] * p["shown"] / p["true"]),
        Mistake(
            "needle taken at its word",
            "That is what the needle shows. The second gauge has told you what to think of that needle.",
            lambda p: p["reading"],
        ),
    ),
    hints=(
        "How many times what the needle shows is the true pressure, at full throttle?",
        "The same number of times at half throttle. Multiply.",
    ),
    solution=lambda p, show: (
        f"{show(p['true'], 'pressure')} / {show(p['shown'], 'pressure')} = {p['true'] / p['shown']:.4g}.\n\n"
        f"{p['true'] / p['shown']:.4g} × {show(p['reading'], 'pressure')} is "
        f"{show(p['reading'] * p['true'] / p['shown'], 'pressure')}. Such a gauge belongs off the machine."
    ),
)

_TABLE = (("idle", 0.19), ("half throttle", 0.52), ("full throttle", 1.0))


def _worn_by(change):
    return lambda p: tuple(p["gauge"] * share * change(p["more"]) for _, share in _TABLE)


SUSPECT_TABLE = FillTable(
    id="08-suspect-card",
    title="What worn jets would show",
    skills=("signature", "square law"),
    draw=lambda rng: {"gauge": _psi(rng.randrange(1800, 2800, 50)), "more": _hundredths(rng, 0.25, 0.6)},
    shown={"gauge": "pressure", "more": "fraction"},
    ask="You suspect the jets: the drill shank says that they have {more} more area than they should. The hose is "
    "short "
    "and the valve stays shut. Fill in what the gauge should show if that is all.",
    columns=(("throttle", None), ("on the card", "pressure"), ("with the worn jets", "pressure")),
    rows=lambda p: tuple(
        (name, p["gauge"] * share, p["gauge"] * share / (1.0 + p["more"]) ** 2) for name, share in _TABLE
    ),
    blanks=((0, 2), (1, 2), (2, 2)),
    tolerance=0.02,
    mistakes=(
        mistakes.area_for_flow_square(_worn_by(lambda more: 1.0 / (1.0 + more))),
        Mistake(
            "share taken off",
            "It looks as if the same share was taken off the gauge. Gauge and area do not go in step.",
            _worn_by(lambda more: 1.0 - more),
        ),
        mistakes.upside_down(_worn_by(lambda more: (1.0 + more) ** 2)),
    ),
    hints=(
        "How many times the old area is the new one? It is more than 1.",
        "At the same flow the gauge falls with that number squared: divide by it twice, at every throttle.",
    ),
    solution=lambda p, show: (
        f"The area is {1.0 + p['more']:.3g} times what it was. Squared: {(1.0 + p['more']) ** 2:.4g}. Divide by it:\n\n"
        + "\n".join(
            f"{name}: {show(p['gauge'] * share, 'pressure')} becomes "
            f"{show(p['gauge'] * share / (1.0 + p['more']) ** 2, 'pressure')}"
            for name, share in _TABLE
        )
        + "\n\nAll three are down by the same share. That is the mark of the jets, though not of the jets alone."
    ),
)

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
    "valve leaking": "The valve's seat leaks",
    "valve low": "The valve opens too early",
    "engine weak": "The engine is short of power",
    "speed low": "The engine does not reach its speed",
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


NAME_IT = SingleChoice(
    id="08-name-the-fault",
    title="Name the fault",
    skills=("signature",),
    draw=_draw_named,
    shown={
        **_GAUGE_KINDS,
        "second": "pressure",
        "flow": "flow",
        "card_flow": "flow",
        "speed": "speed",
        "card_speed": "speed",
    },
    ask=f"The yard trailer's card says {_CARD}, {{card_flow}} out of the nozzle and {{card_speed}} at full throttle, "
    f"and "
    f"no water back to the tank.\n\nToday the gauge shows {_TODAY}. At full throttle a second gauge shows {{second}}, "
    "{flow} leave the nozzle, and the pump turns at {speed}. Stream to the tank: {stream}.\n\nOne thing is wrong. "
    "Which?",
    options=tuple((name, _WORDS[name]) for name in _NAMED),
    answer=lambda p: p["fault"],
    mistakes=(
        Mistake(
            "jets by habit",
            "A low gauge makes one think of jets. But worn jets leave flow and speed alone, and both gauges agree on "
            "what they do. Look at what else was read.",
            lambda p: "jets worn" if p["fault"] not in ("jets worn", "jet plugged") else None,
        ),
        Mistake(
            "flow left out",
            "Look at the flow out of the nozzle. Is any water missing?",
            _taken_for(jets_worn="pump weak", gauge_low="pump weak"),
        ),
        Mistake(
            "tank return left out",
            "Water is missing at the nozzle, that is right. Now look at the tank: where does it go, and at which "
            "throttles?",
            _taken_for(valve_leaking="pump weak", valve_low="speed low"),
        ),
        Mistake(
            "speed left out",
            "Water is missing, that is right. But look at the pump's speed, and at the gauge at idle.",
            _taken_for(speed_low="pump weak"),
        ),
        Mistake(
            "a working valve blamed",
            "The valve does let water back at full throttle. Is that its fault, or does something make the pressure "
            "climb "
            "early? Look at the gauge at idle and half throttle.",
            _taken_for(jet_plugged="valve low"),
        ),
    ),
    hints=(
        "Go through the readings one by one. Which differ from the card, and at which throttles?",
        "Water there or not? If not, does it come back to the tank, and always or at full throttle only? And the "
        "speed?",
    ),
    solution=lambda p, show: _solve_named(p),
)


def _solve_named(p):
    found = _shows(p["fault"], p["severity"])
    return "\n".join(found.sentences[1:]) + f"\n\n{_WORDS[p['fault']]}: {_REASONS[p['fault']]}"


_REASONS = {
    "jet plugged": "less area, so the gauge is high while the valve is shut, and the valve opens early.",
    "jets worn": "more area, so both gauges are low everywhere, with all the water still there.",
    "pump weak": "water is missing at every throttle, at the right speed, and none comes back to the tank.",
    "valve leaking": "water is missing at the nozzle at every throttle, and comes back to the tank.",
    "valve low": "nothing shows until the gauge reaches the new opening pressure; from there on water comes back.",
    "speed low": "idle is right, and the more throttle the more is missing, just as the speed is.",
    "gauge low": "flow, speed and second gauge are right; only the needle is not, by the same share everywhere.",
}

_ALIKE = {
    "all low alike": ("jets worn", "pump weak", "valve leaking", "gauge low"),
    "high until the valve opens": ("jet plugged", "hose narrow"),
    "low at full throttle only": ("valve low", "engine weak"),
}
_UNSURE = tuple(name for group in _ALIKE.values() for name in group)


def _group(p):
    return next(group for group in _ALIKE.values() if p["fault"] in group)


def _other_group(p):
    names = tuple(_ALIKE.values())
    return {names[0]: names[1], names[1]: names[0], names[2]: names[0]}[_group(p)]


CANNOT_TELL = MultipleChoice(
    id="08-cannot-tell",
    title="Which of them could it be?",
    skills=("look-alikes",),
    draw=lambda rng: _draw_fault(rng, _UNSURE),
    shown=_GAUGE_KINDS,
    ask=f"The yard trailer's card says {_CARD}. Today the gauge shows {_TODAY}. Nothing else has been looked at. "
    f"Which of "
    "these could it be?",
    options=tuple((name, _WORDS[name]) for name in _UNSURE),
    answer=_group,
    mistakes=(
        Mistake(
            "only one found",
            "What you ticked is possible. But the gauge alone does not prove it: what else would show the same?",
            lambda p: _group(p)[:1],
        ),
        Mistake(
            "needle taken at its word",
            "All that you ticked is possible. One more is, if you do not take the needle at its word.",
            lambda p: _group(p)[:3] if len(_group(p)) == 4 else None,
        ),
        Mistake(
            "wrong pattern",
            "Those would show another pattern. Compare with the card at each throttle: up or down, and where?",
            _other_group,
        ),
    ),
    hints=(
        "Work out how far each of the three is off the card, as a share. Alike, or at one end only?",
        "Then ask of each suspect: would it show just that, at some size?",
    ),
    solution=lambda p, show: (
        "Against the card: "
        + ", ".join(
            f"{show(p[name], 'pressure')} over {show(p['card_' + name], 'pressure')} is "
            f"{p[name] / p['card_' + name]:.2f}"
            for name in ("idle", "half", "full")
        )
        + ".\n\nThis pattern: "
        + next(words for words, group in _ALIKE.items() if group == _group(p))
        + ".\n\nIt could be any of these: "
        + "; ".join(_WORDS[name].lower() for name in _group(p))
        + ". The gauge alone cannot tell which."
    ),
)

_PAIRS = {  # two suspects with the same gauge: the check that parts them
    ("jets worn", "pump weak"): "flow",
    ("pump weak", "valve leaking"): "return",
    ("gauge low", "jets worn"): "second",
    ("speed low", "suction starved"): "speed",
    ("jet plugged", "hose narrow"): "open",
}
_SUSPECTS = {
    **{name: words[0].lower() + words[1:] for name, words in _WORDS.items()},
    "suction starved": "the suction is starved",
}


def _draw_pair(rng):
    pair = rng.choice(tuple(_PAIRS))
    fault = rng.choice(pair)
    severity = _hundredths(rng, *_SIZES[fault])
    return {
        "fault": fault,
        "one": pair[0],
        "other": pair[1],
        "one_words": _SUSPECTS[pair[0]],
        "other_words": _SUSPECTS[pair[1]],
        "full": float(_shows(fault, severity).gauge[2]),
        "card_full": float(_shows("healthy").gauge[2]),
    }


def _parting_check(p):
    return _PAIRS[p["one"], p["other"]]


def _unless_right(key):
    return lambda p: key if _parting_check(p) != key else None


_PARTING = {
    "flow": "worn jets still pass all the water; a weak pump does not have it to give.",
    "return": "both leave water missing at the nozzle; only a leaking seat brings it back to the tank.",
    "second": "with worn jets both gauges agree that the pressure is low; with a bad needle they do not agree.",
    "speed": "both leave water missing, more at full throttle than at idle; only one of them leaves speed missing.",
    "open": "with the nozzle off plugged jets are out of the way, and a narrow place in the hose is not. Stop the pump "
    "and let the pressure off before the nozzle comes off, and make the hose end fast: a loose end whips. A look at "
    "nozzle and hose, with the pump stopped, would part them too.",
}

NEXT_CHECK = SingleChoice(
    id="08-next-check",
    title="One check to part them",
    skills=("next check",),
    draw=_draw_pair,
    shown={"full": "pressure", "card_full": "pressure"},
    ask="At full throttle the yard trailer shows {full}; the card says {card_full}. Two suspects are left: "
    "{one_words}, "
    "or {other_words}. You may do one check. Which one parts them?",
    options=(
        ("flow", "Time the flow out of the nozzle, by the level in the tank"),
        ("return", "Look at the tank return"),
        ("second", "Read a second gauge, known to be good"),
        ("speed", "Measure the pump's speed"),
        ("open", "Read the gauge with the nozzle off, as far as the manual allows it"),
        ("again", "Read the gauge at full throttle once more"),
    ),
    answer=_parting_check,
    mistakes=(
        Mistake(
            "the same once more",
            "The same reading again tells the same again. Both suspects would show it.",
            lambda p: "again",
        ),
        Mistake(
            "flow measured by habit",
            "A good check, but for this pair it shows next to the same either way.",
            _unless_right("flow"),
        ),
        Mistake(
            "needle doubted",
            "A second gauge tells whether the needle lies. Would either of these two make it lie?",
            _unless_right("second"),
        ),
    ),
    hints=(
        "Say for each suspect what every check on the list would show.",
        "A check that shows the same for both is wasted. Look for the one where they differ most.",
    ),
    solution=lambda p, show: (
        f"The suspects: {p['one_words']}, or {p['other_words']}.\n\nWhat parts them: {_PARTING[_parting_check(p)]}"
    ),
)

# --- an order, and a safe way -----------------------------------------------------------------------

_IN_A_ROW = {"plugged": "jet plugged", "worn": "jets worn", "weak": "pump weak", "needle": "gauge low"}


def _draw_order(rng):
    return {key: _hundredths(rng, 0.1, 0.45) for key in _IN_A_ROW}


def _half_gauge(p, key):
    return float(_shows("healthy" if key == "sound" else _IN_A_ROW[key], p.get(key)).gauge[1])


def _in_order(value):
    return lambda p: tuple(sorted(("sound", *_IN_A_ROW), key=lambda key: value(p, key)))


_by_half_gauge = _in_order(_half_gauge)


def _silly_order(p):
    gauges = [_half_gauge(p, key) for key in _by_half_gauge(p)]
    return any(high < 1.08 * low for low, high in pairwise(gauges))


ORDER = Ordering(
    id="08-order-by-gauge",
    title="From the lowest gauge to the highest",
    skills=("signature",),
    draw=_draw_order,
    reject=_silly_order,
    shown=dict.fromkeys(_IN_A_ROW, "fraction"),
    ask="The yard trailer at half throttle, five mornings. Put them in order, the lowest gauge first.",
    options=(
        ("sound", "Nothing is wrong"),
        ("plugged", "{plugged} of the jets' area is plugged"),
        ("worn", "The jets have {worn} more area"),
        ("weak", "The pump has lost {weak} of its flow"),
        ("needle", "The gauge shows {needle} too little"),
    ),
    answer=_by_half_gauge,
    mistakes=(
        mistakes.upside_down(
            lambda p: _by_half_gauge(p)[::-1],
            "The order is turned over. The lowest gauge comes first.",
        ),
        Mistake(
            "ordered by the size of the number",
            "It looks as if they were ordered by their per cent. A needle is off by the per cent; flow and area count "
            "twice, and not all of them lower the gauge.",
            _in_order(lambda p, key: -p.get(key, 0.0)),
        ),
        Mistake(
            "plugged taken to lower the gauge",
            "Most of it is good. But does less area make the gauge fall?",
            _in_order(lambda p, key: _half_gauge(p, key) * ((1.0 - p[key]) ** 4 if key == "plugged" else 1.0)),
        ),
    ),
    hints=(
        "One of them raises the gauge, three lower it.",
        "The needle: take off its share. Flow: what is left, squared. Area: divide by what it has become, squared.",
    ),
    solution=lambda p, show: (
        "At half throttle:\n\n"
        + "\n".join(
            f"{_ORDER_WORDS[key].format(percent(p[key]) if key in p else '')}: {show(_half_gauge(p, key), 'pressure')}"
            for key in _by_half_gauge(p)
        )
    ),
)
_ORDER_WORDS = {
    "sound": "nothing wrong",
    "plugged": "{} plugged",
    "worn": "{} more area",
    "weak": "{} of the flow lost",
    "needle": "{} too little shown",
}

_SAFE = {"tank", "fast"}

SAFE_BUCKET = MultipleChoice(
    id="08-safe-bucket",
    title="Which of these may be done?",
    skills=("bucket test", "safety"),
    draw=lambda rng: {
        "flow": _gpm(rng.randrange(8, 25) / 2.0),
        "volume": to_si(rng.choice((10, 15, 20)), "volume", "US"),
    },
    shown={"flow": "flow", "volume": "volume"},
    ask="You want to know whether the pump still gives its {flow}. There is a drum of {volume}. The manual allows a "
    "flow "
    "test with the nozzle off. Which of these ways are sound?",
    options=(
        (
            "tank",
            "Shut the water supply off, and time how far the level in the tank drops while the rig works as usual",
        ),
        (
            "fast",
            "Pump stopped and pressure off, take the nozzle off, make the hose end fast in the drum, then start at "
            "idle",
        ),
        ("hand", "Nozzle off, and somebody with strong gloves holds the hose end in the drum"),
        ("idle", "Nozzle on, at idle only, and somebody holds it in the drum"),
        ("full", "Nozzle on, at full throttle, laid loose in the drum with a board on top"),
    ),
    answer=lambda p: _SAFE,
    mistakes=(
        Mistake(
            "idle taken as harmless",
            "The yard trailer's gauge shows some 540 psi (37 bar) at idle, and small jets cut skin at less. Nobody "
            "holds a "
            "nozzle that runs, at any throttle.",
            lambda p: _SAFE | {"idle"},
        ),
        Mistake(
            "trust in gloves",
            "A loose hose end whips as soon as the water comes, and a glove stops neither hose nor jet. What should "
            "hold "
            "it?",
            lambda p: _SAFE | {"hand"},
        ),
        Mistake(
            "only the drum found",
            "That one is sound. There is another, for which the nozzle need not come off at all.",
            lambda p: {"fast"},
        ),
        Mistake(
            "only the tank found",
            "That one is sound, and the safest. One of the others is sound as well.",
            lambda p: {"tank"},
        ),
    ),
    hints=(
        "Ask of each: is anybody's hand near a running end? Could the end get loose?",
        "Two of them keep hands away, and hold the end fast or leave it in the pipe.",
    ),
    solution="With the supply shut off, the tank itself is the bucket: nozzle and hose stay where they work. Or the "
    "nozzle "
    "comes off with the pump stopped and the pressure off, and the hose end is made fast before anything "
    "turns.\n\nNobody "
    "holds a running nozzle or hose end, at any throttle. The machine's manual comes first.",
)

EXERCISES = (
    ONE_PLUGGED,
    SUSPECT_TABLE,
    WEAR,
    LOST_WATER,
    SLOW_ENGINE,
    NEEDLE,
    BUCKET,
    ORDER,
    NAME_IT,
    CANNOT_TELL,
    NEXT_CHECK,
    SAFE_BUCKET,
)

# --- predictions ------------------------------------------------------------------------------------

_MONDAY = ("pump weak", 0.15)


def monday():
    """What the lesson's story reads on Monday morning: GaugeReadings of the trailer at idle, half and full throttle."""
    return [GaugeReading(value, throttle) for value, throttle in zip(_shows(*_MONDAY).gauge, THROTTLES, strict=True)]


def _monday_answer(p):
    """The one cause the readings leave, or that they leave several."""
    tied = diagnose(_trailer(), monday()).tied
    return tied[0].name if len(tied) == 1 else "several"


MONDAY = PredictedChoice(
    id="08-monday",
    title="Monday morning",
    parameters={**_gauges("healthy", prefix="card_"), **_gauges(*_MONDAY)},
    shown=_GAUGE_KINDS,
    ask=f"The yard trailer's card says {_CARD}. On Monday it shows {_TODAY}. Nothing else has been read. What is "
    f"wrong?",
    options=(
        ("jets worn", "The jets are worn"),
        ("pump weak", "The pump is weak"),
        ("valve leaking", "The valve leaks"),
        ("gauge low", "The gauge reads low"),
        ("several", "Nobody can tell from this"),
    ),
    answer=_monday_answer,
    because="All three are down by the same share. Worn jets do that; so does a pump that gives too little, a valve "
    "that "
    "leaks, and a needle that reads low. The gauge cannot tell them apart. Saying so is the right answer.",
)


def _plugged_gauge(p, throttle):
    gone = FAULTS["jet plugged"].changes(p["gone"])
    found = state(_trailer(), gone, [throttle] if isinstance(throttle, float) else throttle).gauge
    return float(found[0]) if isinstance(throttle, float) else found


PLUGGED_CURVE = PredictedCurve(
    id="08-plugged-curve",
    title="A fifth of the jets plugged",
    parameters={"gone": 0.2, "setting": _psi(2800), **_gauges("healthy", prefix="card_")},
    shown={**_GAUGE_KINDS, "gone": "fraction", "setting": "pressure"},
    ask=f"The yard trailer's card says {_CARD}; its valve opens at {{setting}}. Now a stone plugs {{gone}} of the "
    f"jets' "
    "area. Sketch the gauge over the throttle.",
    x=("throttle", "fraction"),
    y=("gauge", "pressure"),
    xs=(0.0, 0.25, 0.5, 0.75, 1.0),
    top=_psi(3500),
    answer=_plugged_gauge,
    because="Four fifths of the area needs 1.25 × 1.25, about one and a half times the pressure, at idle and half "
    "throttle "
    "alike. Before full throttle that passes the valve's setting, and from there the valve holds the gauge. So at full "
    "throttle next to nothing shows: look at idle and half.",
)


def _differs(p):
    """At which of idle, half and full throttle a gauge with the tired spring is off the card by more than 2 %."""
    found = _shows("valve low", round(1.0 - p["opens"] / p["setting"], 6))
    off = [abs(value / usual - 1.0) > 0.02 for value, usual in zip(found.gauge, found.healthy.gauge, strict=True)]
    return {(True, True, True): "all", (False, True, True): "half and full", (False, False, True): "full"}.get(
        tuple(off), "none"
    )


LOW_VALVE = PredictedChoice(
    id="08-low-valve",
    title="A valve with a tired spring",
    parameters={"opens": _psi(2100), "setting": _psi(2800), **_gauges("healthy", prefix="card_")},
    shown={**_GAUGE_KINDS, "opens": "pressure", "setting": "pressure"},
    ask=f"The yard trailer's card says {_CARD}. The spring of its valve gets tired: it now opens at {{opens}} in place "
    "of {setting}. Which of the three readings will show it?",
    options=(
        ("all", "All three, by the same share"),
        ("half and full", "Half and full throttle"),
        ("full", "Full throttle alone"),
        ("none", "None of them"),
    ),
    answer=_differs,
    because="Below its setting a sound valve is not there, and neither is a tired one. At idle and half throttle the "
    "gauge stays below both settings, so nothing changes. At full throttle the new setting is passed.",
)

PREDICTIONS = (MONDAY, PLUGGED_CURVE, LOW_VALVE)
