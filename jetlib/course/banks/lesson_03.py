"""Practice and predictions of lesson 03, hose friction."""

import math

from jetlib.course.banks.amounts import (
    DENSITY,
    FLOWS,
    SIZES,
    VISCOSITY,
    draw_hose,
    feet,
    gpm,
    hose_bore,
    hose_loss,
    hose_name,
    loss_of,
    psi,
    said_bore,
)
from jetlib.course.exercises import PredictedChoice, PredictedCurve, PredictedNumber
from jetlib.course.exercises.mistakes import IMPERIAL_GALLON_RATIO
from jetlib.course.exercises.shapes import choice, numeric, power_law, ranked, table
from jetlib.course.exercises.terms import name_it, safe_ways
from jetlib.course.exercises.worked import worked
from jetlib.physics import friction, hose
from jetlib.units import si

# --- length and bore --------------------------------------------------------------------------------

LONGER = power_law(
    "03-longer",
    """
    More of the same hose
    ask: At {flow}, {length} of {bore} hose loses {loss}. How much does {new_length} of the same hose lose at that flow?
    hint: How many times the old length is the new one?
    hint: Pressure loss is proportional to length. Multiply the old loss by that ratio, once.
    square instead of linear: You squared the length ratio. Pressure loss is proportional to length.
    ratio upside down: You divided the wrong way round. Does a longer hose lose more, or less?
    new piece only: That is the loss in the extra length alone. The water flows through the whole hose.
    length to the fifth power: You used the length ratio five times. That is the law for the bore.
    """,
    skills=("loss goes with length",),
    draw=lambda rng: draw_hose(rng) | {"new_length": feet(rng.choice((125, 175, 225, 250, 300, 350, 400)))},
    given=loss_of,
    reject=lambda p: not 1.2 <= p["new_length"] / p["length"] <= 2.6 or not psi(20) <= p["loss"] <= psi(900),
    shown={"flow": "flow", "length": "length", "bore": "bore", "loss": "pressure", "new_length": "length"},
    kind="pressure",
    value="loss",
    ratio=("new_length", "length"),
    power=1,
    labels=("Length ratio",),
    wrong={
        "square instead of linear": 2,
        "ratio upside down": -1,
        "new piece only": "{loss} × ({new_length} / {length} - 1)",
        "length to the fifth power": 5,
    },
)


def _draw_bores(rng):
    at = rng.randrange(len(SIZES))
    drawn = draw_hose(rng, SIZES[at : at + 1])
    return drawn | {"new_size": rng.choice([size for size in SIZES[max(at - 2, 0) : at + 3] if size != SIZES[at]])}


def _two_bores(p):
    old, new = p["size"], p["new_size"]
    bores = {"bore": said_bore(old), "hose": hose_name(old), "new_bore": said_bore(new), "new_hose": hose_name(new)}
    narrower = said_bore(new) < said_bore(old)
    return bores | {"loss": loss_of(p)["loss"], "which": "narrower" if narrower else "wider"}


FIFTH_POWER = power_law(
    "03-fifth-power",
    """
    A different bore
    ask: At {flow}, {length} of {hose} loses {loss}. The flow and the length stay the same, and you change to
    {new_hose}. By the fifth-power rule, how much does it lose now?
    hint: Is the new hose narrower or wider? First say whether the loss goes up or down.
    hint: Divide the old bore by the new bore. Multiply the old loss by that ratio five times.
    ratio upside down: You divided the wrong way round. The new hose is {which}: does it lose more, or less?
    """,
    skills=("fifth power of bore",),
    draw=_draw_bores,
    given=_two_bores,
    reject=lambda p: (
        not psi(15) <= p["loss"] <= psi(800) or not psi(8) <= p["loss"] * (p["bore"] / p["new_bore"]) ** 5 <= psi(4000)
    ),
    shown={"flow": "flow", "length": "length", "bore": "jet_bore", "new_bore": "jet_bore", "loss": "pressure"},
    kind="pressure",
    tolerance=0.04,
    value="loss",
    ratio=("bore", "new_bore"),
    power=5,
    labels=("Old bore / new bore", "Five times as a factor"),
    wrong={
        "fourth power instead of fifth": 4,
        "square of bore instead of fifth power": 2,
        "bore in step instead of fifth power": 1,
        "ratio upside down": -5,
    },
)

TRUE_BORE = numeric(
    "03-true-bore",
    """
    Narrower than printed
    ask: The lining of an old hose has swollen: its true bore is {narrower} less than printed. By the fifth-power rule,
    how many times the loss of a hose in good condition does {length} of it lose? Answer with a plain number.
    hint: What share of the printed bore is left? 3 % less leaves 0.97.
    hint: Divide 1 by what is left, and use that factor five times.
    solve: Share of the bore left: 1 − {share} -> left
    solve: Printed bore / true bore: 1 / {left} -> over
    solve: Five times as a factor: {over} × {over} × {over} × {over} × {over} -> times ratio
    ratio upside down: You divided the wrong way round. Does a narrower hose lose less?
    power left out: You let the loss rise by the share that the bore shrinks. The bore counts five times.
    """,
    skills=("fifth power of bore", "true bore"),
    draw=lambda rng: {
        "narrower": rng.choice((0.05, 0.06, 0.07, 0.08, 0.09, 0.1, 0.12)),
        "length": feet(rng.choice((50, 100, 150, 200))),
    },
    given=lambda p: {"share": p["narrower"]},
    shown={"narrower": "fraction", "length": "length"},
    kind="ratio",
    tolerance=0.015,
    wrong={
        "bore in step instead of fifth power": "{over}",
        "square of bore instead of fifth power": "{over}²",
        "ratio upside down": "1 / {times}",
        "power left out": "1 + {share} / 2",
    },
)

# --- flow -------------------------------------------------------------------------------------------

_POWERS = {"linear": 1.0, "nearly-square": 1.8, "cube": 3.0, "fifth": 5.0}


def _as_power(name):
    return lambda p, show: show(p["loss"] * (p["new_flow"] / p["flow"]) ** _POWERS[name], "pressure", 2)


def _nearest_power(p):
    """The option that is nearest to what the full formula gives."""
    grows = hose_loss(p["new_flow"], p["length"], p["bore"]) / hose_loss(p["flow"], p["length"], p["bore"])
    return min(_POWERS, key=lambda name: abs(_POWERS[name] - math.log(grows) / math.log(p["new_flow"] / p["flow"])))


MORE_FLOW = choice(
    "03-more-flow",
    """
    More flow, same hose
    ask: {length} of {bore} hose loses {loss} at {flow}. About how much does it lose at {new_flow}?
    hint: How many times the old flow is the new one?
    hint: For jets it would be the square of that. A hose loses slightly less than the square.
    linear instead of nearly square: You let the loss rise as the flow does. Faster water rubs much harder.
    cube instead of nearly square: That is too steep. What do jets do with the flow? A hose does slightly less.
    bore's law for flow: You used the flow ratio five times. The fifth power belongs to the bore.
    """,
    skills=("loss and flow",),
    draw=lambda rng: {
        "size": rng.choice(("3/8 in", "1/2 in")),
        "length": feet(rng.randrange(100, 301, 50)),
        "flow": gpm(rng.choice((3, 3.5, 4, 4.5, 5))),
        "times": rng.choice((2, 3)),
    },
    given=lambda p: loss_of(p) | {"new_flow": p["times"] * p["flow"]},
    reject=lambda p: not psi(20) <= p["loss"] <= psi(350),
    shown={"length": "length", "bore": "bore", "flow": "flow", "loss": "pressure", "new_flow": "flow"},
    options=tuple((name, _as_power(name)) for name in _POWERS),
    answer=_nearest_power,
    wrong={
        "linear instead of nearly square": "linear",
        "cube instead of nearly square": "cube",
        "bore's law for flow": "fifth",
    },
    solution=lambda p, show: (
        f"The flow is {p['times']} times what it was, and the square of that is {p['times'] ** 2}. A hose loses "
        f"slightly less than {p['times'] ** 2} times {show(p['loss'], 'pressure')}: about "
        f"{_as_power('nearly-square')(p, show)}."
    ),
)


def _friction_factor(p):
    bore = said_bore(p["size"])
    speed = hose.velocity(p["flow"], bore=bore)
    factor = hose_loss(p["flow"], p["length"], bore) * 2.0 * bore / (p["length"] * DENSITY * speed**2)
    return {"bore": bore, "hose": hose_name(p["size"]), "factor": round(factor, 4)}


FORMULA = numeric(
    "03-formula",
    """
    The formula, once by hand
    ask: {flow} flows through {length} of {hose}. The friction factor f is {factor}. How much pressure does it lose?
    hint: Use the trade formula of the lesson. Its units are [psi, ft, gpm and in|bar, m, L/min and mm].
    hint: [0.0135|2250] × f × length × flow × flow, divided by the bore five times.
    solve: Bore five times as a factor: {bore} × {bore} × {bore} × {bore} × {bore} -> fifth
    solve: [0.0135|2250] × {factor} × {length} × {flow} × {flow} / {fifth} -> loss pressure
    the half left out: Your figure is twice too large. In the formula with speed there is a 2 to divide by.
    linear instead of square: You used the flow once. In the formula it is squared.
    feet over inches: You divided feet by inches. Length and bore need the same unit when you divide one by the other.
    """,
    skills=("Darcy and Weisbach", "units"),
    draw=lambda rng: draw_hose(rng, ("3/8 in", "1/2 in", "5/8 in"), range(50, 301, 25)),
    given=_friction_factor,
    shown={"length": "length", "bore": "jet_bore", "flow": "flow"},
    kind="pressure",
    tolerance=0.04,
    wrong={
        "the half left out": "2 × {loss}",
        "linear instead of square": "{loss} / {flow}",
        "diameter taken as radius": "32 × {loss}",
        "Imperial gallon for US gallon": f"{{loss}} × {IMPERIAL_GALLON_RATIO}²",
        "feet over inches": "{loss} / 12",
    },
)

# --- hoses in series --------------------------------------------------------------------------------


def _draw_row(rng):
    main = rng.choice(("1/2 in", "5/8 in", "3/4 in"))
    return {
        "flow": gpm(rng.choice(FLOWS[main])),
        "size": main,
        "small": SIZES[SIZES.index(main) - 1],
        "each": feet(100),
        "main": feet(rng.randrange(150, 401, 50)),
        "leader": feet(rng.choice((25, 40, 50, 75))),
    }


def _row_rates(p):
    bores = {"bore": hose_bore(p["size"]), "small_bore": hose_bore(p["small"])}
    rates = [hose_loss(p["flow"], p["each"], bore) for bore in bores.values()]
    return bores | {"main_rate": rates[0], "leader_rate": rates[1]}


IN_A_ROW = numeric(
    "03-in-a-row",
    """
    Two hoses in series
    ask: At {flow}, {each} of {bore} hose loses {main_rate} and {each} of {small_bore} leader hose loses {leader_rate}.
    The line is {main} of {bore} hose, then {leader} of leader hose. How much does the line lose?
    hint: Calculate each hose by itself. Loss is proportional to length.
    hint: The same water flows through one and then the other. What do their losses do?
    solve: Main hose: {main_rate} × {main} / {each} -> first pressure
    solve: Leader hose: {leader_rate} × {leader} / {each} -> second pressure
    solve: Together: {first} + {second} -> both pressure
    lengths left out: You added the figures for {each} as they are. How much is there of each hose?
    """,
    skills=("losses add",),
    draw=_draw_row,
    given=_row_rates,
    shown={"flow": "flow", "bore": "bore", "small_bore": "bore", "each": "length", "main": "length", "leader": "length"}
    | {"main_rate": "pressure", "leader_rate": "pressure"},
    kind="pressure",
    wrong={
        "only the first hose": "{first}",
        "only the last hose": "{second}",
        "series taken as parallel": "1 / (1 / √{first} + 1 / √{second})²",
        "lengths left out": "{main_rate} + {leader_rate}",
    },
)


def _draw_order(rng):
    return {
        "flow": gpm(rng.choice((4, 5, 6, 7, 8, 9))),
        **{f"length_{key}": feet(rng.randrange(25, 401, 25)) for key in "abcd"},
        **{f"bore_{key}": hose_bore(size) for key, size in zip("abcd", rng.choices(SIZES[1:], k=4), strict=True)},
    }


ORDER_HOSES = ranked(
    "03-order-hoses",
    """
    From the least loss to the most
    ask: {flow} flows through each of these hoses in turn. Put them in order, the least pressure loss first.
    item: {length} of {bore} hose
    hint: Start with the length. Then ask what the bore does to it.
    hint: For each hose, divide its length by its bore five times. The smallest figure has the least loss.
    solve: Pressure loss at {flow}, with a usual lining:
    ratio upside down: Your order is the wrong way round. The least loss comes first.
    ordered by length: You ordered by length alone. The bore counts five times, the length once.
    ordered by bore: You ordered by bore alone. A short narrow hose can lose less than a long wide one.
    """,
    skills=("length against bore",),
    draw=_draw_order,
    by=lambda p, key: hose_loss(p["flow"], p[f"length_{key}"], p[f"bore_{key}"]),
    kind="pressure",
    item_kinds={"length": "length", "bore": "bore"},
    shown={"flow": "flow"},
    apart=1.4,
    top=psi(3000),
    reject=lambda p: len({p[f"bore_{key}"] for key in "abcd"}) < 3,
    wrong={
        "ratio upside down": "reversed",
        "ordered by length": lambda p, key: p[f"length_{key}"],
        "ordered by bore": lambda p, key: -p[f"bore_{key}"],
    },
)

# --- what helps -------------------------------------------------------------------------------------


def _draw_cure(rng):
    return {
        "flow": gpm(rng.randrange(10, 20) / 2.0),
        "main": feet(rng.randrange(100, 301, 50)),
        "leader": feet(rng.choice((50, 75, 100, 150))),
        "bore": hose_bore("1/2 in"),
        "wide": hose_bore("5/8 in"),
        "small": hose_bore("3/8 in"),
    }


def _line(p, *, main=1.0, bore="bore", leader=1.0, small="small"):
    return hose_loss(p["flow"], main * p["main"], p[bore]) + hose_loss(p["flow"], leader * p["leader"], p[small])


def _saved(p):
    """Share of the line's loss that each change saves."""
    after = {
        "order": _line(p),
        "half-main": _line(p, main=0.5),
        "wide-main": _line(p, bore="wide"),
        "half-leader": _line(p, leader=0.5),
        "wide-leader": _line(p, small="bore"),
    }
    return {name: 1.0 - loss / _line(p) for name, loss in after.items()}


def _helps(p):
    return frozenset(name for name, share in _saved(p).items() if share >= 0.25)


WHAT_HELPS = choice(
    "03-what-helps",
    """
    Which change helps?
    ask: {flow} flows through {main} of {bore} hose and then {leader} of {small} hose. Which of these changes, each by
    itself, cuts the loss of the whole line by a quarter or more?
    option order: The {small} hose in front, the {bore} hose behind it
    option half-main: {half_main} less of the {bore} hose
    option wide-main: {wide} in place of the {bore} hose
    option half-leader: {half_leader} less of the {small} hose
    option wide-leader: {bore} in place of the {small} hose
    hint: Calculate what each hose loses now. Length, divided by the bore five times, gives their shares.
    hint: To save a quarter of the line, a change has to work on a hose with a large share. How much of that share does
    it save?
    solve: Loss now: {bore} hose {main_loss}, {small} hose {leader_loss}. What each change saves of the whole line:
    solve: {half_main} less of the {bore} hose: {saved_half_main}
    solve: {wide} in place of the {bore} hose: {saved_wide_main}
    solve: {half_leader} less of the {small} hose: {saved_half_leader}
    solve: {bore} in place of the {small} hose: {saved_wide_leader}
    solve: The order of the hoses changes nothing.
    order taken to matter: One of them changes nothing. The same water flows through both, whichever comes first.
    the longer hose blamed: You changed only the wider hose. First find out which of the two has the larger share.
    not all found: What you ticked is right. One more is worth calculating.
    """,
    many=True,
    skills=("losses add", "length against bore"),
    draw=_draw_cure,
    given=lambda p: {
        "half_main": p["main"] / 2.0,
        "half_leader": p["leader"] / 2.0,
        "main_loss": hose_loss(p["flow"], p["main"], p["bore"]),
        "leader_loss": hose_loss(p["flow"], p["leader"], p["small"]),
        **{f"saved_{name.replace('-', '_')}": round(share, 2) for name, share in _saved(p).items()},
    },
    reject=lambda p: any(0.2 < share < 0.3 for share in _saved(p).values()) or not 1 <= len(_helps(p)) <= 3,
    shown={"flow": "flow", **dict.fromkeys(("main", "leader", "half_main", "half_leader"), "length")}
    | {**dict.fromkeys(("bore", "wide", "small"), "bore"), "main_loss": "pressure", "leader_loss": "pressure"}
    | {f"saved_{which}_{end}": "fraction" for which in ("half", "wide") for end in ("main", "leader")},
    answer=_helps,
    wrong={
        "order taken to matter": lambda p: _helps(p) | {"order"},
        "the longer hose blamed": lambda p: {"half-main", "wide-main"} if p["main"] > p["leader"] else None,
        "not all found": lambda p: set(sorted(_helps(p))[1:]) if len(_helps(p)) > 1 else None,
    },
)

# --- the reel ---------------------------------------------------------------------------------------


def _coil_adds(flow, bore, reel):
    """By what share a reel of this diameter raises the loss."""
    reynolds = hose.reynolds_number(flow, bore=bore, density=DENSITY, viscosity=VISCOSITY)
    return float(friction.coil_ratio(reynolds, bore, reel)) - 1.0


def _draw_reel(rng):
    drawn = draw_hose(rng, ("3/8 in", "1/2 in", "3/4 in"), (200, 250, 300, 350, 400))
    reel = si(rng.choice(("16 in", "20 in", "24 in", "32 in")), "coil_diameter")
    return drawn | {"reel": reel, "reeled": feet(25 * round(drawn["length"] / feet(25) * rng.uniform(0.3, 0.8)))}


def _reeled(p):
    more = round(_coil_adds(p["flow"], hose_bore(p["size"]), p["reel"]), 2)
    return loss_of(p) | {"more": more, "share": more}


ON_THE_REEL = numeric(
    "03-on-the-reel",
    """
    Part of it on the reel
    ask: At {flow}, {length} of {bore} hose loses {loss} when it lies straight. {reeled} of it stays on the reel, and
    hose on this reel loses {more} more than straight hose. How much does the hose lose?
    hint: All of the hose has its straight loss. Only the part on the reel loses more.
    hint: Find the straight loss of the part on the reel, take that percentage of it, and add it.
    solve: The part on the reel, straight: {loss} × {reeled} / {length} -> part pressure
    solve: What the reel adds: {part} × {share} -> added pressure
    solve: Together: {loss} + {added} -> all pressure
    all of it on the reel: You put all of the hose on the reel. How much of it is there?
    reel left out: That is the hose laid out straight. Part of it is on the reel.
    reel taken off: You let the reel lower the loss. Does water rub more in a curve, or less?
    only the part on the reel: That is the loss of the part on the reel. The water flows through the rest as well.
    """,
    skills=("the reel",),
    draw=_draw_reel,
    given=_reeled,
    reject=lambda p: not 0.25 <= p["reeled"] / p["length"] <= 0.85 or not psi(80) <= p["loss"] <= psi(1500),
    shown={"flow": "flow", "length": "length", "bore": "bore", "loss": "pressure", "reeled": "length"}
    | {"more": "fraction"},
    kind="pressure",
    tolerance=0.01,
    wrong={
        "all of it on the reel": "{loss} × (1 + {share})",
        "reel left out": "{loss}",
        "reel taken off": "{loss} - {added}",
        "only the part on the reel": "{part} + {added}",
    },
)

# --- a table ----------------------------------------------------------------------------------------

_TABLE = ("5/16 in", "3/8 in", "1/2 in", "5/8 in")
_KNOWN = said_bore("1/2 in")
_OTHERS = tuple(said_bore(size) for size in _TABLE if size != "1/2 in")


def _table_by(power):
    return lambda p: tuple(p["loss"] * (_KNOWN / bore) ** power for bore in _OTHERS)


_TABLE_KINDS = {"flow": "flow", "length": "length", "loss": "pressure", "known": "jet_bore"} | dict.fromkeys(
    ("bore_0", "bore_1", "bore_2"), "jet_bore"
)

BORE_TABLE = table(
    "03-bore-table",
    """
    A table of bores
    ask: At {flow}, {length} of hose with a bore of {known} loses {loss}. Fill in the same length of the other bores, by
    the fifth-power rule.
    hint: How many times each of the other bores is the known bore?
    hint: Use that ratio five times, and multiply the known loss by it.
    solve: Known bore / other bore, five times as a factor, times the known loss:
    ratio upside down: You divided the wrong way round. Do narrower hoses lose more, or less?
    """,
    skills=("fifth power of bore",),
    draw=lambda rng: {"flow": gpm(rng.randrange(6, 17) / 2.0), "length": feet(rng.choice((50, 100, 150)))},
    given=lambda p: {
        "loss": hose_loss(p["flow"], p["length"], _KNOWN),
        "known": _KNOWN,
        **{f"bore_{at}": bore for at, bore in enumerate(_OTHERS)},
    },
    reject=lambda p: p["loss"] < psi(25),
    shown=_TABLE_KINDS,
    columns=(("bore", "jet_bore"), ("pressure loss", "pressure")),
    rows=lambda p: tuple((said_bore(size), p["loss"] * (_KNOWN / said_bore(size)) ** 5) for size in _TABLE),
    blanks=((0, 1), (1, 1), (3, 1)),
    tolerance=0.04,
    wrong={
        "fourth power instead of fifth": _table_by(4),
        "square of bore instead of fifth power": _table_by(2),
        "bore in step instead of fifth power": _table_by(1),
        "ratio upside down": _table_by(-5),
    },
    solution=worked(
        _TABLE_KINDS,
        lambda p: [
            step
            for at in range(3)
            for step in (
                (f"{{known}} / {{bore_{at}}}", f"ratio_{at}", None),
                (f"{{loss}} × {' × '.join([f'{{ratio_{at}}}'] * 5)}", f"loss_{at}", "pressure"),
            )
        ],
    ),
)

# --- words and safe working -------------------------------------------------------------------------

TERMS = name_it(
    "03-terms",
    """
    pressure loss | what goes into a hose minus what comes out at its other end | gauge reading
    leader hose | the last length before the nozzle, often of smaller diameter | reel hose
    reel hose | the long length that is wound up on the machine | leader hose
    end fitting | what is pressed or screwed on at the end of a hose | coupling
    coupling | what joins two hoses | end fitting
    swivel | a joint that lets the reel turn while water passes | coupling
    gauge reading | the pressure right at the pump | pressure loss
    kink | a sharp fold that closes most of the hose | swivel
    """,
)

SAFE_WAYS = safe_ways(
    "03-safe-hose",
    """
    You lay out a hose for a test of its pressure loss. Which of these ways are safe?
    safe stop: Stop the engine and relieve the pressure before you open a coupling
    safe look: Look the whole hose over for cuts, bulges and bare wire before the test
    safe edge: Put a guard where the hose runs over an edge
    safe rating: Check that every hose and fitting is rated for the setting, its rise and a surge
    unsafe feel: Feel along the hose with your hand for a leak | A pinhole leak injects water through skin and glove
    unsafe kink: Straighten a kink with your foot under pressure | A weak spot can burst or whip under your foot
    unsafe tight: Tighten a dripping coupling while it is under pressure | It can come apart in your hands
    unsafe tape: Wrap a bulge with tape and go on | A bulge means the hose is failing. Take it out of use
    """,
)

EXERCISES = (
    LONGER, FIFTH_POWER, MORE_FLOW, FORMULA, IN_A_ROW, ORDER_HOSES, WHAT_HELPS, ON_THE_REEL, TRUE_BORE, BORE_TABLE,
    TERMS, SAFE_WAYS,
)  # fmt: skip

# --- predictions ------------------------------------------------------------------------------------

_LINE = {"flow": gpm(8), "length": feet(200), "bore": hose_bore("1/2 in"), "leader": feet(50)}
_LINE |= {"small": hose_bore("3/8 in")}
_SHARES = {"long-four": 0.25, "long-two": 0.5, "same": 1.0, "thin-four": 4.0}


def _small_over_long(p):
    ratio = hose_loss(p["flow"], p["leader"], p["small"]) / hose_loss(p["flow"], p["length"], p["bore"])
    return min(_SHARES, key=lambda name: abs(math.log(_SHARES[name] / ratio)))


THIN_LEADER = PredictedChoice(
    id="03-thin-leader",
    title="Long and wide, or short and narrow",
    parameters=_LINE,
    shown={"flow": "flow", "length": "length", "bore": "bore", "leader": "length", "small": "bore"},
    ask="{flow} flows through {length} of {bore} hose and then through {leader} of {small} leader hose. Which of the "
    "two loses more pressure?",
    options=(
        ("long-four", "The long one, about four times as much: it is four times as long"),
        ("long-two", "The long one, about twice as much"),
        ("same", "About the same each"),
        ("thin-four", "The narrow one, about four times as much"),
    ),
    answer=_small_over_long,
    because="A quarter of the length loses a quarter as much. But the bore is about three quarters, and the bore "
    "counts five times: that alone makes it about four times as much. The two cancel out.",
)

HALF_THE_BORE = PredictedNumber(
    id="03-half-the-bore",
    title="Half the bore",
    parameters={
        "flow": gpm(4),
        "length": feet(200),
        "bore": hose_bore("1/2 in"),
        "small_bore": hose_bore("1/4 in"),
        "loss": hose_loss(gpm(4), feet(200), hose_bore("1/2 in")),
    },
    shown={"flow": "flow", "length": "length", "bore": "bore", "small_bore": "bore", "loss": "pressure"},
    ask="At {flow}, {length} of {bore} hose loses {loss}. How much does {length} of {small_bore} hose lose, about "
    "half the bore?",
    kind="pressure",
    answer=lambda p: hose_loss(p["flow"], p["length"], p["small_bore"]),
    because=lambda p, show: (
        "Half the bore has a quarter of the area, so the water flows four times as fast, and loss rises with nearly "
        "the square of the speed. On top of that, more of the water is near the wall. Together it is about "
        f"{hose_loss(p['flow'], p['length'], p['small_bore']) / p['loss']:.0f} times."
    ),
)

_REEL_ADDS = {"nothing": 0.0, "fifth": 0.2, "half": 0.5, "double": 1.0}


def _nearest_adds(p):
    more = _coil_adds(p["flow"], p["bore"], p["reel"])
    return min(_REEL_ADDS, key=lambda name: abs(_REEL_ADDS[name] - more))


REEL = PredictedChoice(
    id="03-reel",
    title="The reel",
    parameters={"flow": gpm(8), "bore": hose_bore("1/2 in"), "reel": si("20 in", "coil_diameter")},
    shown={"flow": "flow", "bore": "bore", "reel": "coil_diameter"},
    ask="{flow} flows through {bore} hose, all of it wound up on a reel {reel} across. How much more does it lose than "
    "the same hose laid out straight?",
    options=(
        ("nothing", "No more: length is length"),
        ("fifth", "About 20 % more"),
        ("half", "About half as much again"),
        ("double", "About twice as much"),
    ),
    answer=_nearest_adds,
    because="In the curve the water rolls like a corkscrew and rubs more. It costs something, but far less than bore "
    "or length do.",
)

LOSS_CURVE = PredictedCurve(
    id="03-loss-against-flow",
    title="The loss against the flow",
    parameters={"length": feet(200), "bore": hose_bore("1/2 in"), "low_flow": gpm(2), "flow": gpm(10)},
    shown={"length": "length", "bore": "bore", "low_flow": "flow", "flow": "flow"},
    ask="The flow through {length} of {bore} hose rises from {low_flow} to {flow}. Sketch the pressure loss.",
    x=("flow", "flow"),
    y=("loss", "pressure"),
    xs=tuple(gpm(flow) for flow in (2.0, 4.0, 6.0, 8.0, 10.0)),
    top=psi(250),
    answer=lambda p, x: hose_loss(x, p["length"], p["bore"]),
    because="It gets steeper all the way, as with jets, but slightly less: twice the flow loses about three and a half "
    "times the pressure.",
)

PREDICTIONS = (THIN_LEADER, HALF_THE_BORE, LOSS_CURVE, REEL)
