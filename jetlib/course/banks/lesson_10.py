"""Predictions of lesson 10, engine, tank and heat, and the exercises that need Python."""

from itertools import pairwise

from jetlib.course.exercises import Mistake, Ordering, PredictedChoice, PredictedCurve
from jetlib.course.exercises.amounts import gallons, gpm, psi
from jetlib.course.exercises.shapes import choice, predicted
from jetlib.course.exercises.worked import worked
from jetlib.course.exercises.yard import (
    draw_machine,
    hp,
    inches,
    readings,
    rig_of,
)
from jetlib.physics import heat, water
from jetlib.physics.power import shaft_power
from jetlib.rig.job.flushing import DEBRIS, flushing, shear_that_moves
from jetlib.rig.parts.drain import Drain
from jetlib.units import si

_WATER = {"density": water.density(288.15), "specific_heat": water.specific_heat(288.15)}
_GRAINS = tuple(name for name, size in DEBRIS.items() if size is not None)

# --- engine -----------------------------------------------------------------------------------------


# Power needed after a change: (words, flow ratio, pressure ratio).
_CHANGES = {
    "throttle": ("Close the throttle by 20 %, so that the bypass valve shuts", 0.8, 0.8**2),
    "larger-jets": ("Fit larger jets, so that the gauge reading falls by 20 % and the bypass valve shuts", 1.0, 0.8),
    "smaller-jets": ("Fit smaller jets; the gauge reading stays at the setting, and more water returns", 1.0, 1.0),
    "thin-hose": ("Add small hose; the gauge reading stays at the setting, and more water returns", 1.0, 1.0),
    "lower-setting": ("Have a licensed fitter set the bypass valve 20 % lower", 1.0, 0.8),
}


def _less_power(p):
    return [name for name in p["offered"] if _CHANGES[name][1] * _CHANGES[name][2] < 0.95]


def _draw_changes(rng):
    helps = rng.sample(("throttle", "larger-jets", "lower-setting"), rng.choice((1, 2)))
    return draw_machine(rng) | {"offered": (*helps, "smaller-jets", "thin-hose")}


LESS_POWER = choice(
    "10-less-power",
    """
    The engine bogs
    ask: High up in the mountains, the engine of the {called} bogs at full throttle. The gauge reads the setting of the
        bypass valve, {gauge}, and water returns to the tank. Which of these reduce the power that the pump needs?
    hint: The pump's power is its own flow times the gauge reading, wherever the water goes afterwards.
    hint: Look for what makes the pump turn more slowly, or lowers the gauge reading.
    less water at the nozzle taken as less power: Less water at the nozzle is not less power. The pump still moves all
        of it, at the same pressure.
    everything ticked: Not all of them. Power is the pump's flow times the gauge reading: what happens to the two in
        each case?
    """,
    many=True,
    options=lambda p: tuple((name, _CHANGES[name][0]) for name in p["offered"]),
    answer=_less_power,
    wrong={
        "less water at the nozzle taken as less power": ("smaller-jets", "thin-hose"),
        "everything ticked": lambda p: list(p["offered"]),
    },
    solution=worked(
        {},
        "Power compared with now: the pump's flow × the gauge reading.\n",
        lambda p: [
            (f"{_CHANGES[name][0]}: {_CHANGES[name][1]:.2g} × {_CHANGES[name][2]:.2g}", f"n{at}", None)
            for at, name in enumerate(p["offered"])
        ],
        "\nThe water that returns was brought up to pressure first, and costs as much as the rest.",
    ),
    skills=("engine power", "bypass"),
    draw=_draw_changes,
    given=lambda p: {"gauge": float(rig_of(p).unloader.setting)},
    shown={"gauge": "pressure"},
)


# --- heat -------------------------------------------------------------------------------------------


_ZERO_F, _ZERO_C = 273.15 - 32.0 / 1.8, 273.15  # K


_LOOP = si("2 L", "volume")
_STATES = {
    "jetting": "Jetting: all the water leaves through the nozzle",
    "part": "Jetting: {share} returns to a tank with only {left} in it",
    "shut-large": "Outlet shut: all returns to a tank of {large}",
    "shut-small": "Outlet shut: all returns to a tank of {small}",
    "loop": "Outlet shut: all returns to the pump inlet, half a gallon (2 L)",
}


def _draw_states(rng):
    return draw_machine(rng, throttles=(1.0,)) | {
        "jets": rng.choice((0.6, 0.7, 0.8)),
        "large": gallons(rng.choice((150, 200, 250, 300))),
        "small": gallons(rng.choice((50, 60, 80, 100))),
        "left": gallons(rng.choice((10, 15, 20, 25, 30))),
    }


def _states(p):
    found = readings(p, "gauge", "pump_flow", "nozzle_flow")
    pumped = found["pump_flow"]
    return {"power": found["gauge"] * pumped, "share": round(1.0 - found["nozzle_flow"] / pumped, 2)}


def _heating(p):
    """How fast the water that takes up the heat warms in each state, K/s."""
    taken = {
        "jetting": (0.0, p["small"]),
        "part": (p["share"], p["left"]),
        "shut-large": (1.0, p["large"]),
        "shut-small": (1.0, p["small"]),
        "loop": (1.0, _LOOP),
    }
    return {
        key: float(heat.tank_heating_rate(share * p["power"], volume=volume, **_WATER))
        for key, (share, volume) in taken.items()
    }


def _slowest_first(p):
    return tuple(sorted(_heating(p), key=_heating(p).get))


def _rates_too_near(p):
    rates = sorted(_heating(p).values())
    return any(low > 0.0 and high < 1.2 * low for low, high in pairwise(rates))


def _most_water_first(p):
    order = ("jetting", "shut-large", "shut-small", "part", "loop")
    return order if order != _slowest_first(p) else None


def _solve_heating(p, show):
    rates = _heating(p)
    names = {"jetting": "all out", "part": "some back", "loop": "to the inlet"}
    names |= {"shut-large": "shut, large tank", "shut-small": "shut, small tank"}
    rows = (f"{names[key]}: {show(60.0 * rates[key], 'temperature_difference')}" for key in _slowest_first(p))
    return "Power that returns, divided by the water that it heats. Rise in the first minute:\n\n" + "\n".join(rows)


ORDER_HEAT = Ordering(
    id="10-order-heat",
    title="From the coolest to the hottest",
    skills=("heat in bypass",),
    draw=_draw_states,
    given=_states,
    reject=_rates_too_near,
    shown={"power": "power", "large": "volume", "small": "volume", "left": "volume", "share": "fraction"},
    ask="The pump of the {called} puts {power} into its water. Some of it can return as heat. Put these in order of "
    "how fast the heated water warms, the slowest first.",
    options=tuple(_STATES.items()),
    answer=_slowest_first,
    mistakes=(
        Mistake(
            "ratio upside down",
            "Your order is the wrong way around: the slowest is first.",
            lambda p: _slowest_first(p)[::-1],
        ),
        Mistake(
            "only the water counted",
            "You looked only at the amount of water. How much of the power returns counts as well.",
            _most_water_first,
        ),
        Mistake(
            "the inlet taken as a way out",
            "Water that returns to the inlet has not left. It goes round and round, and gets all the heat.",
            lambda p: ("jetting", "loop", *_slowest_first(p)[1:-1]),
        ),
    ),
    hints=(
        "Two things count: how much power returns, and how much water it heats.",
        "Divide one by the other. For a share of the water, use that share of the power.",
    ),
    solution=_solve_heating,
)

# --- down the drain ---------------------------------------------------------------------------------


def _draw_drain(rng):
    return draw_machine(rng) | {"bore": inches(rng.choice((4, 6, 8))), "fall": rng.choice((0.005, 0.01, 0.02, 0.04))}


def _running(p):
    flow = readings(p, "nozzle_flow")["nozzle_flow"]
    off = flushing(flow, Drain(bore=p["bore"], length=30.0, fall=p["fall"]))
    return {"flow": flow, "shear": float(off.shear), "deep": float(off.depth_ratio * p["bore"])}


def _moved(p):
    return [name for name in _GRAINS if shear_that_moves(DEBRIS[name]) <= p["shear"]]


def _grains_silly(p):
    near = any(abs(p["shear"] / shear_that_moves(DEBRIS[name]) - 1.0) < 0.1 for name in _GRAINS)
    return near or not 1 <= len(_moved(p)) < len(_GRAINS)


def _grain_words(name):
    return lambda p, show: f"{name[0].upper()}{name[1:]}, up to {show(DEBRIS[name], 'leak_bore', 2)}"


GRAINS = choice(
    "10-which-grains",
    """
    What the water carries along
    ask: The {called} is at work, and {flow} runs off down a clean pipe with a bore of {bore} and a fall of {fall}. The
        water drags on the wall with {shear} Pa, and is {deep} deep. What does it carry along by itself?
    hint: Look at the table of grains in the lesson: how hard must the water drag for each?
    hint: All those that need no more than this water has go along; the others stay.
    ratio upside down: That is what stays behind. Do fine grains move more easily, or coarse ones?
    one size too far: The coarsest that you ticked needs more than this water has.
    only the coarsest: That one moves. If it moves, what about the finer ones?
    """,
    many=True,
    options=tuple((name, _grain_words(name)) for name in _GRAINS),
    answer=_moved,
    wrong={
        "ratio upside down": lambda p: [name for name in _GRAINS if name not in _moved(p)],
        "one size too far": lambda p: [*_moved(p), _GRAINS[len(_moved(p))]],
        "only the coarsest": lambda p: _moved(p)[-1:] if len(_moved(p)) > 1 else None,
    },
    solution=lambda p, show: "\n".join((
        f"The water drags on the wall with {p['shear']:.2g} Pa.\n",
        *(f"{_grain_words(name)(p, show)}: needs {shear_that_moves(DEBRIS[name]):.2g} Pa" for name in _GRAINS),
        "\nIt carries along all that needs no more than it has.",
    )),
    skills=("debris transport",),
    draw=_draw_drain,
    given=_running,
    reject=_grains_silly,
    shown={"flow": "flow", "bore": "pipe_bore", "fall": "slope", "deep": "pipe_bore"},
)  # fmt: skip


EXERCISES = (LESS_POWER, ORDER_HEAT, GRAINS)

# --- predictions ------------------------------------------------------------------------------------

POWER_CURVE = predicted(
    PredictedCurve,
    "10-power-curve",
    """
    Power against engine speed
    ask: At an engine speed of {speed} a pump sends {flow} through its jets, and the gauge reads {pressure}; the bypass
        valve is shut. The engine is slowed down. Sketch the power that the pump needs.
    because: Flow is proportional to engine speed, and pressure to engine speed squared. Power is the two multiplied: at
        half the engine speed it is 0.5 × 0.25 = 0.125 of what it was. That is why an engine that bogs recovers at a
        slightly lower engine speed.
    """,
    parameters={"speed": si("3000 rpm", "speed"), "flow": gpm(8.0), "pressure": psi(3000), "efficiency": 0.85},
    shown={"speed": "speed", "flow": "flow", "pressure": "pressure"},
    x=("engine speed", "speed"),
    y=("power", "power"),
    xs=tuple(si(f"{turns} rpm", "speed") for turns in (1000, 1500, 2000, 2500, 3000)),
    top=hp(20),
    answer=lambda p, x: shaft_power(
        p["flow"] * (x / p["speed"]), p["pressure"] * (x / p["speed"]) ** 2, p["efficiency"]
    ),
)


def _loop_time(p):
    seconds = float(heat.tank_warm_up_time(p["power"], volume=p["loop"], start=p["start"], limit=p["limit"], **_WATER))
    return "seconds" if seconds < 100.0 else "minutes" if seconds < 1200.0 else "half-hour"


LOOP = predicted(
    PredictedChoice,
    "10-loop",
    """
    A phone call
    ask: A bypass valve does not return to the tank but to the pump's inlet, so {loop} of water goes round and round.
        The outlet is shut, the engine runs on and puts {power} into that water, which starts at {start}. The operator
        takes a phone call. When is the water at {limit}, where the seals begin to suffer?
    option seconds: Within a minute or so
    option minutes: In five or ten minutes
    option half-hour: In half an hour or more
    because: All the engine's power stays in half a gallon (2 L). That is like five strong electric kettles heating one
        pot between them. A full tank needs an hour or more for the same rise; the loop needs about half a minute.
    """,
    parameters={
        "power": hp(16),
        "loop": si("0.5 gal", "volume"),
        "start": si("60 degF", "temperature"),
        "limit": si("140 degF", "temperature"),
    },
    shown={"power": "power", "loop": "volume", "start": "temperature", "limit": "temperature"},
    answer=_loop_time,
)


def _which_helps(p):
    def shear(flow, fall):
        return float(flushing(flow, Drain(bore=p["bore"], length=30.0, fall=fall)).shear)

    more, steeper = shear(2.0 * p["flow"], p["fall"]), shear(p["flow"], 2.0 * p["fall"])
    return "same" if abs(more / steeper - 1.0) < 0.05 else "water" if more > steeper else "fall"


WATER_OR_FALL = predicted(
    PredictedChoice,
    "10-water-or-fall",
    """
    Twice the water, or twice the fall
    ask: {flow} runs off down a pipe with a bore of {bore} and a fall of {fall}, and carries sand and grit along. What
        would make it carry coarser debris: twice the water, or twice the fall?
    option water: Twice the water does more
    option fall: Twice the fall does more
    option same: Both do the same
    because: More fall pulls on every drop. More water mostly makes the flow deeper and wider. You cannot change the
        fall of a drain, but you can look it up: in a flat one the grit does not leave by itself.
    """,
    parameters={"flow": gpm(9), "bore": inches(4), "fall": 0.01},
    shown={"flow": "flow", "bore": "pipe_bore", "fall": "slope"},
    answer=_which_helps,
)

PREDICTIONS = (POWER_CURVE, LOOP, WATER_OR_FALL)
