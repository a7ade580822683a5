"""Practice and predictions of lesson 03, hose friction."""

import math
from itertools import pairwise

from jetlib.course.exercises import (
    FillTable,
    Mistake,
    MultipleChoice,
    Numeric,
    Ordering,
    PredictedChoice,
    PredictedCurve,
    PredictedNumber,
    SingleChoice,
    mistakes,
)
from jetlib.course.exercises.mistakes import altered, scaled
from jetlib.physics import friction, hose, water
from jetlib.units import from_si, si, text, to_si

_DENSITY, _VISCOSITY = water.density(288.15), water.viscosity(288.15)
_ROUGHNESS = 1e-5  # a usual lining
_BORES = ("1/4 in", "5/16 in", "3/8 in", "1/2 in", "5/8 in", "3/4 in")


def _psi(number):
    return to_si(number, "pressure", "US")


def _gpm(number):
    return to_si(number, "flow", "US")


def _feet(number):
    return to_si(number, "length", "US")


def _bore(size):
    return si(size, "bore")


def _name(bore):
    """A bore as the trade writes it, in both systems: "3/8 in (9.53 mm)"."""
    size = next(size for size in _BORES if _bore(size) == bore)
    return f"{size} ({text(bore, 'bore', 'metric')})"


def _loss(flow, length, bore):
    return hose.pressure_loss(
        flow, bore=bore, length=length, roughness=_ROUGHNESS, density=_DENSITY, viscosity=_VISCOSITY
    )


# --- length -----------------------------------------------------------------------------------------


def _draw_lengths(rng):
    return {
        "length": _feet(rng.choice((50, 75, 100, 150, 200))),
        "loss": _psi(rng.randrange(40, 260, 5)),
        "new_length": _feet(rng.choice((125, 175, 225, 250, 300, 350, 400))),
    }


def _times_longer(p):
    return p["new_length"] / p["length"]


def _longer(p):
    return p["loss"] * _times_longer(p)


LONGER = Numeric(
    id="03-longer",
    title="More of the same hose",
    skills=("loss goes with length",),
    draw=_draw_lengths,
    reject=lambda p: not 1.2 <= _times_longer(p) <= 2.6,
    shown={"length": "length", "loss": "pressure", "new_length": "length"},
    ask="{length} of a hose takes {loss} at your flow. What does {new_length} of the same hose take at that flow?",
    kind="pressure",
    answer=_longer,
    mistakes=(
        mistakes.square_for_linear(scaled(_longer, _times_longer)),
        mistakes.upside_down(lambda p: p["loss"] / _times_longer(p)),
        Mistake(
            "new piece only",
            "That is what the extra length takes. The water goes through all of it.",
            lambda p: p["loss"] * (_times_longer(p) - 1.0),
        ),
        Mistake(
            "length to the fifth power",
            "It looks as if the length was used five times. That is the bore's law. How often does length count?",
            lambda p: p["loss"] * _times_longer(p) ** 5,
        ),
    ),
    hints=(
        "How many times the old length is the new one?",
        "Length counts once. Multiply the old loss by that many times, and by nothing else.",
    ),
    solution=lambda p, show: (
        f"{show(p['new_length'], 'length')} is {_times_longer(p):.3g} times {show(p['length'], 'length')}.\n\n"
        f"{_times_longer(p):.3g} × {show(p['loss'], 'pressure')} is {show(_longer(p), 'pressure')}."
    ),
)

# --- bore -------------------------------------------------------------------------------------------


def _draw_bores(rng):
    at = rng.randrange(len(_BORES))
    bore, new_bore = _bore(_BORES[at]), _bore(rng.choice(_BORES[max(at - 2, 0) : at + 3]))
    return {
        "length": _feet(rng.choice((50, 100, 150, 200))),
        "bore": bore,
        "hose": _name(bore),
        "loss": _psi(rng.randrange(60, 500, 10)),
        "new_bore": new_bore,
        "new_hose": _name(new_bore),
    }


def _times_narrower(p):
    return p["bore"] / p["new_bore"]


def _by_bore(power):
    return lambda p: p["loss"] * _times_narrower(p) ** power


FIFTH_POWER = Numeric(
    id="03-fifth-power",
    title="Another bore",
    skills=("fifth power of bore",),
    draw=_draw_bores,
    reject=lambda p: abs(_times_narrower(p) - 1.0) < 0.1 or not _psi(8) <= _by_bore(5)(p) <= _psi(4000),
    shown={"length": "length", "bore": "bore", "loss": "pressure", "new_bore": "bore"},
    ask="{length} of {hose} hose takes {loss}. The flow stays the same, and the hose is changed for {length} of "
    "{new_hose}. By the fifth-power rule, what does it take now?",
    kind="pressure",
    answer=_by_bore(5),
    tolerance=0.04,
    mistakes=(
        mistakes.fourth_for_fifth(_by_bore(4)),
        mistakes.square_of_bore(_by_bore(2)),
        mistakes.linear_bore(_by_bore(1)),
        mistakes.upside_down(
            _by_bore(-5),
            "The ratio looks turned over. Does a narrower hose take more, or less? Put the larger bore where it makes "
            "that so.",
        ),
    ),
    hints=(
        "Is the new hose narrower or wider? Say first whether the loss goes up or down.",
        "Divide the old bore by the new one. Multiply that by itself until it stands there five times.",
    ),
    solution=lambda p, show: (
        f"Old bore over new bore: {show(p['bore'], 'bore')} / {show(p['new_bore'], 'bore')} = "
        f"{_times_narrower(p):.4g}.\n\nFive times as a factor: {_times_narrower(p) ** 5:.3g}.\n\n"
        f"{_times_narrower(p) ** 5:.3g} × {show(p['loss'], 'pressure')} is {show(_by_bore(5)(p), 'pressure')}. "
        "The full formula may give an eighth more or less."
    ),
)


def _true_bore(power):
    return lambda p: 1.0 / (1.0 - p["narrower"]) ** power


TRUE_BORE = Numeric(
    id="03-true-bore",
    title="Narrower than printed",
    skills=("fifth power of bore", "true bore"),
    draw=lambda rng: {
        "narrower": rng.choice((0.05, 0.06, 0.07, 0.08, 0.09, 0.1, 0.12)),
        "hose": _name(_bore(rng.choice(_BORES))),
        "length": _feet(rng.choice((50, 100, 150, 200))),
    },
    shown={"narrower": "fraction", "length": "length"},
    ask="The lining of an old {hose} hose has swollen: its true bore is {narrower} less than printed. By the "
    "fifth-power rule, how many times the loss of a sound hose does {length} of it take? Answer with a plain number.",
    kind="ratio",
    answer=_true_bore(5),
    tolerance=0.015,
    mistakes=(
        mistakes.linear_bore(_true_bore(1)),
        mistakes.square_of_bore(_true_bore(2)),
        mistakes.upside_down(_true_bore(-5), "The ratio looks turned over. Does a tighter hose take less?"),
        Mistake(
            "power left out",
            "That would be the loss if it rose by the same share as the bore shrinks. Bore counts five times.",
            lambda p: 1.0 + p["narrower"] / 2.0,
        ),
    ),
    hints=(
        "What share of the printed bore is left? 3 % less leaves 0.97.",
        "Divide 1 by what is left, and use that factor five times.",
    ),
    solution=lambda p, show: (
        f"{show(1.0 - p['narrower'], 'fraction')} of the bore is left, so printed over true is 1 / "
        f"{1.0 - p['narrower']:.3g} = {_true_bore(1)(p):.3g}.\n\nFive times as a factor it is "
        f"{show(_true_bore(5)(p), 'ratio')}."
    ),
)

# --- flow -------------------------------------------------------------------------------------------

_POWERS = {"linear": 1.0, "nearly-square": 1.8, "cube": 3.0, "fifth": 5.0}


def _draw_flows(rng):
    times = rng.choice((2.0, 3.0))
    flow = _gpm(rng.randrange(6, 12) / 2.0)
    return {
        "length": _feet(rng.randrange(100, 301, 50)),
        "bore": _bore("1/2 in"),
        "hose": _name(_bore("1/2 in")),
        "flow": flow,
        "new_flow": times * flow,
        "loss": _psi(rng.randrange(30, 90, 5)),
    }


def _as_power(name):
    return lambda p, show: show(p["loss"] * (p["new_flow"] / p["flow"]) ** _POWERS[name], "pressure", 2)


def _nearest_power(p):
    """The option that is nearest to what the full formula gives."""
    times = p["new_flow"] / p["flow"]
    grows = _loss(p["new_flow"], p["length"], p["bore"]) / _loss(p["flow"], p["length"], p["bore"])
    return min(_POWERS, key=lambda name: abs(math.log(times ** _POWERS[name] / grows)))


MORE_FLOW = SingleChoice(
    id="03-more-flow",
    title="More flow, same hose",
    skills=("loss and flow",),
    draw=_draw_flows,
    shown={"length": "length", "bore": "bore", "flow": "flow", "loss": "pressure", "new_flow": "flow"},
    ask="{length} of {hose} hose takes {loss} at {flow}. About what does it take at {new_flow}?",
    options=tuple((name, _as_power(name)) for name in _POWERS),
    answer=_nearest_power,
    mistakes=(
        Mistake(
            "linear instead of nearly square",
            "It looks as if loss was taken to grow in step with flow. Faster water rubs harder, and there is more of "
            "it to push.",
            lambda p: "linear",
        ),
        Mistake(
            "cube instead of nearly square",
            "That is too steep. What do jets do with the flow? A hose does a little less.",
            lambda p: "cube",
        ),
        Mistake(
            "bore's law for flow",
            "It looks as if the flow was used five times. The fifth power belongs to the bore.",
            lambda p: "fifth",
        ),
    ),
    hints=(
        "How many times the old flow is the new one?",
        "With jets it would be the square of that. A hose takes a little less than the square.",
    ),
    solution=lambda p, show: (
        f"The flow is {p['new_flow'] / p['flow']:.3g} times what it was. The square of that is "
        f"{(p['new_flow'] / p['flow']) ** 2:.3g}; a hose takes a little less than that many times "
        f"{show(p['loss'], 'pressure')}: about {_as_power('nearly-square')(p, show)}."
    ),
)

# --- the formula ------------------------------------------------------------------------------------


def _draw_formula(rng):
    bore = _bore(rng.choice(("3/8 in", "1/2 in", "5/8 in")))
    return {
        "length": _feet(rng.randrange(50, 301, 25)),
        "bore": bore,
        "hose": _name(bore),
        "flow": _gpm(rng.randrange(8, 25) / 2.0),
        "factor": rng.choice((0.022, 0.023, 0.024, 0.025, 0.026)),
    }


def _darcy(p):
    speed = hose.velocity(p["flow"], bore=p["bore"])
    return p["factor"] * p["length"] / p["bore"] * _DENSITY * speed**2 / 2.0


def _solve_darcy(p, show):
    speed = hose.velocity(p["flow"], bore=p["bore"])
    return (
        f"Speed: {show(p['flow'], 'flow')} over the area of {show(p['bore'], 'bore')} is {show(speed, 'velocity')}.\n\n"
        f"Length over bore is {p['length'] / p['bore']:.4g}, and ρ v² / 2 is "
        f"{show(_DENSITY * speed**2 / 2.0, 'pressure')}.\n\n"
        f"{p['factor']:g} × {p['length'] / p['bore']:.4g} × {show(_DENSITY * speed**2 / 2.0, 'pressure')} is "
        f"{show(_darcy(p), 'pressure')}. The trade formula gives the same in one line."
    )


FORMULA = Numeric(
    id="03-formula",
    title="The formula, once by hand",
    skills=("Darcy and Weisbach", "units"),
    draw=_draw_formula,
    reject=lambda p: not _psi(20) <= _darcy(p) <= _psi(1500),
    shown={"length": "length", "bore": "bore", "flow": "flow"},
    ask="{flow} goes through {length} of {hose} hose. The friction factor f is {factor}. What does the hose take?",
    kind="pressure",
    answer=_darcy,
    tolerance=0.04,
    mistakes=(
        Mistake(
            "the half left out",
            "The figure looks a little large. Look at the formula again: is there anything to divide by?",
            scaled(_darcy, 2.0),
        ),
        mistakes.linear_for_square(
            lambda p: _darcy(p) / from_si(p["flow"], "flow", "US"),
            "It looks as if the flow stands there once. In the formula it is squared.",
        ),
        mistakes.diameter_as_radius(altered(_darcy, bore=lambda bore: bore / 2.0)),
        mistakes.imperial_gallon(altered(_darcy, flow=mistakes.imperial_flow)),
        Mistake(
            "feet over inches",
            "The figure looks as if feet were divided by inches. Length and bore must be in the same unit when one is "
            "divided by the other.",
            scaled(_darcy, 1.0 / 12.0),
        ),
    ),
    hints=(
        "Take the trade formula of the lesson: it wants psi, ft, gpm and in, or bar, m, L/min and mm.",
        "0.0135 × f × length × flow × flow, divided by the bore five times; in metric 2250 in place of 0.0135.",
    ),
    solution=_solve_darcy,
)

# --- hoses in a row ---------------------------------------------------------------------------------

_HUNDRED = _feet(100)


def _draw_row(rng):
    return {
        "hundred": _HUNDRED,
        "main": _feet(rng.randrange(150, 401, 50)),
        "main_rate": _psi(rng.randrange(30, 100, 5)),
        "leader": _feet(rng.choice((25, 40, 50, 75))),
        "leader_rate": _psi(rng.randrange(150, 420, 10)),
    }


def _row_parts(p):
    return p["main_rate"] * p["main"] / _HUNDRED, p["leader_rate"] * p["leader"] / _HUNDRED


def _row(p):
    return sum(_row_parts(p))


def _side_by_side(p):
    main, leader = _row_parts(p)
    return 1.0 / (1.0 / math.sqrt(main) + 1.0 / math.sqrt(leader)) ** 2


IN_A_ROW = Numeric(
    id="03-in-a-row",
    title="Two hoses in a row",
    skills=("losses add",),
    draw=_draw_row,
    shown={
        "hundred": "length",
        "main": "length",
        "main_rate": "pressure",
        "leader": "length",
        "leader_rate": "pressure",
    },
    ask="At your flow, {hundred} of the main hose takes {main_rate} and {hundred} of the leader takes {leader_rate}. "
    "The line is {main} of main hose, then {leader} of leader. What does the line take?",
    kind="pressure",
    answer=_row,
    mistakes=(
        mistakes.first_hose_only(lambda p: _row_parts(p)[0]),
        mistakes.last_hose_only(lambda p: _row_parts(p)[1]),
        mistakes.series_as_parallel(_side_by_side),
        Mistake(
            "lengths left out",
            "It looks as if the figures for one length were added as they stand. How much is there of each hose?",
            lambda p: p["main_rate"] + p["leader_rate"],
        ),
    ),
    hints=(
        "Work out each hose by itself. Length counts once.",
        "The same water goes through one and then the other. What do their losses do?",
    ),
    solution=lambda p, show: (
        f"Main hose: {p['main'] / _HUNDRED:.3g} × {show(p['main_rate'], 'pressure')} is "
        f"{show(_row_parts(p)[0], 'pressure')}.\n\nLeader: {p['leader'] / _HUNDRED:.3g} × "
        f"{show(p['leader_rate'], 'pressure')} is {show(_row_parts(p)[1], 'pressure')}.\n\n"
        f"Together {show(_row(p), 'pressure')}."
    ),
)


def _draw_order(rng):
    bores = dict(zip("abcd", map(_bore, rng.choices(_BORES[1:], k=4)), strict=True))
    return {
        "flow": _gpm(rng.randrange(8, 19) / 2.0),
        **{f"length_{key}": _feet(rng.randrange(25, 401, 25)) for key in "abcd"},
        **{f"bore_{key}": bore for key, bore in bores.items()},
        **{f"hose_{key}": _name(bore) for key, bore in bores.items()},
    }


def _order_loss(p, key):
    return _loss(p["flow"], p[f"length_{key}"], p[f"bore_{key}"])


def _sorted_by(measure):
    return lambda p: tuple(sorted("abcd", key=lambda key: measure(p, key)))


_by_loss = _sorted_by(_order_loss)


def _silly_order(p):
    if len({p[f"bore_{key}"] for key in "abcd"}) < 3:
        return True
    losses = sorted(_order_loss(p, key) for key in "abcd")
    return losses[-1] > _psi(3000) or any(high < 1.4 * low for low, high in pairwise(losses))


ORDER_HOSES = Ordering(
    id="03-order-hoses",
    title="From the least loss to the most",
    skills=("length against bore",),
    draw=_draw_order,
    reject=_silly_order,
    shown={
        "flow": "flow",
        **{f"length_{key}": "length" for key in "abcd"},
        **{f"bore_{key}": "bore" for key in "abcd"},
    },
    ask="{flow} goes through each of these hoses in turn. Put them in order, the least loss first.",
    options=tuple((key, f"{{length_{key}}} of {{hose_{key}}}") for key in "abcd"),
    answer=_by_loss,
    mistakes=(
        mistakes.upside_down(lambda p: _by_loss(p)[::-1], "The order is turned over. The least loss comes first."),
        Mistake(
            "ordered by length",
            "It looks as if the hoses were ordered by length alone. Bore counts five times, length once.",
            _sorted_by(lambda p, key: p[f"length_{key}"]),
        ),
        Mistake(
            "ordered by bore",
            "It looks as if the hoses were ordered by bore alone. A short narrow hose can take less than a long wide "
            "one.",
            _sorted_by(lambda p, key: -p[f"bore_{key}"]),
        ),
    ),
    hints=(
        "Start with the length. Then ask what the bore does to it.",
        "For each hose, divide its length by its bore five times. The smallest figure has the least loss.",
    ),
    solution=lambda p, show: (
        f"At {show(p['flow'], 'flow')} in a usual hose:\n\n"
        + "\n".join(
            f"{show(p[f'length_{key}'], 'length')} of {p[f'hose_{key}']} takes {show(_order_loss(p, key), 'pressure')}"
            for key in _by_loss(p)
        )
    ),
)

# --- what helps -------------------------------------------------------------------------------------


def _draw_cure(rng):
    return {
        "flow": _gpm(rng.randrange(10, 21) / 2.0),
        "hose": _name(_bore("1/2 in")),
        "leader_hose": _name(_bore("3/8 in")),
        "main": _feet(rng.randrange(100, 301, 50)),
        "bore": _bore("1/2 in"),
        "wide": _bore("5/8 in"),
        "leader": _feet(rng.choice((50, 75, 100, 150))),
        "thin": _bore("3/8 in"),
    }


def _line(p, *, main=1.0, bore="bore", leader=1.0, thin="thin"):
    return _loss(p["flow"], main * p["main"], p[bore]) + _loss(p["flow"], leader * p["leader"], p[thin])


def _saved(p):
    """Share of the line's loss that each change saves."""
    now = _line(p)
    after = {
        "order": now,
        "half-main": _line(p, main=0.5),
        "wide-main": _line(p, bore="wide"),
        "half-leader": _line(p, leader=0.5),
        "wide-leader": _line(p, thin="bore"),
    }
    return {name: 1.0 - loss / now for name, loss in after.items()}


def _helps(p):
    return frozenset(name for name, share in _saved(p).items() if share >= 0.25)


def _silly_cure(p):
    return any(0.2 < share < 0.3 for share in _saved(p).values()) or not 1 <= len(_helps(p)) <= 3


def _cure(words, less=""):
    """Words for a change; `{less}` in them is half the length named by `less`."""

    def said(p, show):
        names = {name: _name(p[name]) for name in ("bore", "wide", "thin")}
        return words.format(less=show(p[less] / 2.0, "length") if less else "", **names)

    return said


_CURES = (
    ("order", _cure("The {thin} hose in front, the {bore} behind it")),
    ("half-main", _cure("{less} less of the {bore} hose", "main")),
    ("wide-main", _cure("{wide} in place of the {bore} hose")),
    ("half-leader", _cure("{less} less of the {thin} hose", "leader")),
    ("wide-leader", _cure("{bore} in place of the {thin} hose")),
)

WHAT_HELPS = MultipleChoice(
    id="03-what-helps",
    title="Which change helps?",
    skills=("losses add", "length against bore"),
    draw=_draw_cure,
    reject=_silly_cure,
    shown={"flow": "flow", "main": "length", "bore": "bore", "leader": "length", "thin": "bore"},
    ask="{flow} goes through {main} of {hose} hose and then {leader} of {leader_hose}. Which of these changes, each by "
    "itself, takes a quarter or more off the loss of the whole line?",
    options=_CURES,
    answer=_helps,
    mistakes=(
        Mistake(
            "order taken to matter",
            "One of them changes nothing. The same water goes through both, whichever comes first.",
            lambda p: _helps(p) | {"order"},
        ),
        Mistake(
            "the longer hose blamed",
            "You changed only the wider hose. Work out first which of the two takes the larger share.",
            lambda p: {"half-main", "wide-main"} if p["main"] > p["leader"] else None,
        ),
        Mistake(
            "not all found",
            "What you ticked is right. One more is worth working out.",
            lambda p: set(sorted(_helps(p))[1:]) if len(_helps(p)) > 1 else None,
        ),
    ),
    hints=(
        "Work out what each hose takes now: length, divided by bore five times, gives their shares.",
        "To take a quarter off the line, a change has to work on a hose with a large share. How much of that share "
        "does it take away?",
    ),
    solution=lambda p, show: (
        f"The {p['hose']} hose takes {show(_loss(p['flow'], p['main'], p['bore']), 'pressure')}, the "
        f"{p['leader_hose']} hose {show(_loss(p['flow'], p['leader'], p['thin']), 'pressure')}.\n\nOff the "
        "whole line each change takes:\n\n"
        + "\n".join(f"{words(p, show)}: {show(abs(_saved(p)[name]), 'fraction', 2)}" for name, words in _CURES)
    ),
)

# --- the reel ---------------------------------------------------------------------------------------


def _draw_reel(rng):
    length = rng.randrange(200, 401, 50)
    return {
        "length": _feet(length),
        "loss": _psi(rng.randrange(150, 500, 10)),
        "reeled": _feet(rng.randrange(100, length - 40, 25)),
        "more": rng.choice((0.15, 0.18, 0.2, 0.22, 0.25)),
    }


def _reeled(p):
    return p["loss"] * (1.0 + p["more"] * p["reeled"] / p["length"])


ON_THE_REEL = Numeric(
    id="03-on-the-reel",
    title="Part of it on the reel",
    skills=("the reel",),
    draw=_draw_reel,
    shown={"length": "length", "loss": "pressure", "reeled": "length", "more": "fraction"},
    ask="{length} of hose takes {loss} when it lies straight. {reeled} of it stay on the reel, and hose on this reel "
    "takes {more} more than straight hose. What does the hose take?",
    kind="pressure",
    answer=_reeled,
    tolerance=0.01,
    mistakes=(
        Mistake(
            "all of it on the reel",
            "Close. It looks as if all of the hose was put on the reel. How much of it is?",
            lambda p: p["loss"] * (1.0 + p["more"]),
        ),
        Mistake(
            "reel left out",
            "That is the hose laid out straight. Part of it is not.",
            lambda p: p["loss"],
        ),
        Mistake(
            "reel taken off",
            "It looks as if the reel was made to help. Does water in a curve rub more, or less?",
            lambda p: p["loss"] * (1.0 - p["more"] * p["reeled"] / p["length"]),
        ),
        Mistake(
            "only the part on the reel",
            "That is what the part on the reel takes. The water goes through the rest as well.",
            lambda p: p["loss"] * p["reeled"] / p["length"] * (1.0 + p["more"]),
        ),
    ),
    hints=(
        "All of the hose takes its straight loss. Only the part on the reel takes more.",
        "Find the straight loss of the part on the reel, take that share of it, and put it on top.",
    ),
    solution=lambda p, show: (
        f"{show(p['reeled'], 'length')} of {show(p['length'], 'length')} lie on the reel. Straight, that part takes "
        f"{show(p['loss'] * p['reeled'] / p['length'], 'pressure')}.\n\n{show(p['more'], 'fraction')} of that is "
        f"{show(_reeled(p) - p['loss'], 'pressure')} more: {show(_reeled(p), 'pressure')} in all."
    ),
)

# --- a table ----------------------------------------------------------------------------------------

_TABLE_BORES = tuple(_bore(size) for size in ("5/16 in", "3/8 in", "1/2 in", "5/8 in"))
_KNOWN = 2


def _table_by(power):
    known = _TABLE_BORES[_KNOWN]
    return lambda p: tuple(p["loss"] * (known / bore) ** power for bore in _TABLE_BORES if bore != known)


BORE_TABLE = FillTable(
    id="03-bore-table",
    title="A table of bores",
    skills=("fifth power of bore",),
    draw=lambda rng: {
        "flow": _gpm(rng.randrange(6, 13) / 2.0),
        "length": _feet(rng.choice((50, 100, 150))),
        "loss": _psi(rng.randrange(20, 81, 2)),
    },
    shown={"flow": "flow", "length": "length", "loss": "pressure"},
    ask="At {flow}, {length} of 1/2 in (12.7 mm) hose takes {loss}. Fill in the same length of the other bores, by the "
    "fifth-power rule.",
    columns=(("hose", None), ("loss", "pressure")),
    rows=lambda p: tuple((_name(bore), p["loss"] * (_TABLE_BORES[_KNOWN] / bore) ** 5) for bore in _TABLE_BORES),
    blanks=((0, 1), (1, 1), (3, 1)),
    tolerance=0.04,
    mistakes=(
        mistakes.fourth_for_fifth(_table_by(4)),
        mistakes.square_of_bore(_table_by(2)),
        mistakes.linear_bore(_table_by(1)),
        mistakes.upside_down(_table_by(-5), "The ratio looks turned over. Do narrower hoses take more, or less?"),
    ),
    hints=(
        "How many times wider is the known hose than each of the others?",
        "Use that ratio five times, and multiply the known loss by it.",
    ),
    solution=lambda p, show: (
        f"{_name(_TABLE_BORES[_KNOWN])} over each bore, five times as a factor, times "
        f"{show(p['loss'], 'pressure')}:\n\n"
        + "\n".join(
            f"{_name(bore)}: {(_TABLE_BORES[_KNOWN] / bore) ** 5:.3g} times, "
            f"{show(p['loss'] * (_TABLE_BORES[_KNOWN] / bore) ** 5, 'pressure')}"
            for bore in _TABLE_BORES
        )
    ),
)

EXERCISES = (
    LONGER,
    FIFTH_POWER,
    MORE_FLOW,
    FORMULA,
    IN_A_ROW,
    ORDER_HOSES,
    WHAT_HELPS,
    ON_THE_REEL,
    TRUE_BORE,
    BORE_TABLE,
)

# --- predictions ------------------------------------------------------------------------------------

_LINE = {
    "flow": _gpm(8),
    "length": _feet(200),
    "bore": _bore("1/2 in"),
    "leader": _feet(50),
    "thin": _bore("3/8 in"),
    "hose": _name(_bore("1/2 in")),
    "leader_hose": _name(_bore("3/8 in")),
}
_LINE_SHOWN = {"flow": "flow", "length": "length", "bore": "bore", "leader": "length", "thin": "bore"}
_SHARES = {"long-four": 0.25, "long-two": 0.5, "same": 1.0, "thin-four": 4.0}


def _thin_over_long(p):
    ratio = _loss(p["flow"], p["leader"], p["thin"]) / _loss(p["flow"], p["length"], p["bore"])
    return min(_SHARES, key=lambda name: abs(math.log(_SHARES[name] / ratio)))


THIN_LEADER = PredictedChoice(
    id="03-thin-leader",
    title="Long and wide, or short and thin",
    parameters=_LINE,
    shown=_LINE_SHOWN,
    ask="{flow} goes through {length} of {hose} hose and then through {leader} of {leader_hose}. Which of the two "
    "takes more pressure?",
    options=(
        ("long-four", "The long one, about four times as much: it is four times as long"),
        ("long-two", "The long one, about twice as much"),
        ("same", "About the same each"),
        ("thin-four", "The thin one, about four times as much"),
    ),
    answer=_thin_over_long,
    because="A quarter of the length takes a quarter of the loss. But the bore is three quarters, and bore counts five "
    "times: that alone makes it about four times as much. The two cancel out.",
)

HALF_THE_BORE = PredictedNumber(
    id="03-half-the-bore",
    title="Half the bore",
    parameters={
        "flow": _gpm(4),
        "length": _feet(200),
        "bore": _bore("1/2 in"),
        "small_bore": _bore("1/4 in"),
        "hose": _name(_bore("1/2 in")),
        "small_hose": _name(_bore("1/4 in")),
        "loss": _loss(_gpm(4), _feet(200), _bore("1/2 in")),
    },
    shown={"flow": "flow", "length": "length", "bore": "bore", "small_bore": "bore", "loss": "pressure"},
    ask="At {flow}, {length} of {hose} hose takes {loss}. What does {length} of {small_hose} hose take, half the bore?",
    kind="pressure",
    answer=lambda p: _loss(p["flow"], p["length"], p["small_bore"]),
    because="Half the bore has a quarter of the area, so the water runs four times as fast, and loss goes with nearly "
    "the square of speed. On top of that more of the water is near the wall. Together it is about 32 times.",
)


def _coiling(p):
    """The option nearest to what the reel adds."""
    reynolds = hose.reynolds_number(p["flow"], bore=p["bore"], density=_DENSITY, viscosity=_VISCOSITY)
    more = friction.coil_ratio(reynolds, p["bore"], p["reel"]) - 1.0
    return min(_REEL_ADDS, key=lambda name: abs(_REEL_ADDS[name] - more))


_REEL_ADDS = {"nothing": 0.0, "fifth": 0.2, "half": 0.5, "double": 1.0}

REEL = PredictedChoice(
    id="03-reel",
    title="The reel",
    parameters={
        "flow": _gpm(8),
        "bore": _bore("1/2 in"),
        "hose": _name(_bore("1/2 in")),
        "reel": si("20 in", "coil_diameter"),
    },
    shown={"flow": "flow", "bore": "bore", "reel": "coil_diameter"},
    ask="{flow} goes through {hose} hose, all of it wound up on a reel {reel} across. How much more does it take than "
    "the same hose laid out straight?",
    options=(
        ("nothing", "Nothing more: length is length"),
        ("fifth", "About a fifth more"),
        ("half", "About half as much again"),
        ("double", "About twice as much"),
    ),
    answer=_coiling,
    because="In the curve the stream rolls like a corkscrew and rubs more. It costs something, but far less than bore "
    "or length do.",
)

LOSS_CURVE = PredictedCurve(
    id="03-loss-against-flow",
    title="The loss against the flow",
    parameters={
        "length": _feet(200),
        "bore": _bore("1/2 in"),
        "hose": _name(_bore("1/2 in")),
        "low_flow": _gpm(2),
        "flow": _gpm(10),
    },
    shown={"length": "length", "bore": "bore", "low_flow": "flow", "flow": "flow"},
    ask="The flow through {length} of {hose} hose rises from {low_flow} to {flow}. Sketch what the hose takes.",
    x=("flow", "flow"),
    y=("loss", "pressure"),
    xs=tuple(_gpm(flow) for flow in (2.0, 4.0, 6.0, 8.0, 10.0)),
    top=_psi(250),
    answer=lambda p, x: _loss(x, p["length"], p["bore"]),
    because="It gets steeper all the way, as with jets, but a little less: twice the flow takes about three and a half "
    "times the pressure.",
)

PREDICTIONS = (THIN_LEADER, HALF_THE_BORE, LOSS_CURVE, REEL)
