"""Practice and predictions of lesson 10: engine, tank, heat, and what the water carries down the drain."""

from itertools import pairwise

from jetlib.course.banks.amounts import POWER, feet, gallons, gpm, psi
from jetlib.course.banks.yard import (
    TANKS,
    draw_machine,
    fahrenheit,
    feet_per_second,
    hp,
    inches,
    pumped_and_back,
    readings,
    rig_of,
)
from jetlib.course.exercises import Mistake, Ordering, PredictedChoice, PredictedCurve
from jetlib.course.exercises.mistakes import IMPERIAL_GALLON_RATIO
from jetlib.course.exercises.shapes import choice, numeric, predicted, table
from jetlib.course.exercises.terms import name_it, safe_ways
from jetlib.course.exercises.worked import worked
from jetlib.physics import heat, water
from jetlib.physics.power import shaft_power
from jetlib.rig.job.flushing import DEBRIS, flushing, shear_that_moves
from jetlib.rig.parts.drain import Drain
from jetlib.units import si

_WATER = {"density": water.density(288.15), "specific_heat": water.specific_heat(288.15)}
_GRAINS = tuple(name for name, size in DEBRIS.items() if size is not None)
_WARMING = "[5.08|14.3]"  # °F × gallons for each hp and minute, °C × liters for each kW and minute

# --- engine -----------------------------------------------------------------------------------------


def _pumped(p):
    found = readings(p, "gauge", "pump_flow")
    return {"flow": found["pump_flow"], "gauge": found["gauge"]}


SHAFT_POWER = numeric(
    "10-shaft-power",
    f"""
    What the engine must give
    ask: The pump of the {{called}} delivers {{flow}} and the gauge reads {{gauge}}. Pump and drive together have an
        efficiency of {{efficiency}}. How much power must the engine give?
    hint: First the power in the water: gpm × psi / 1714 in hp, or L/min × bar / 600 in kW.
    hint: The engine must give more than what arrives in the water. Divide by the efficiency, written as 0.85 for 85 %.
    solve: In the water: {{flow}} × {{gauge}} / {POWER} -> water power
    solve: The engine: {{water}} / {{share}} -> shaft power
    1714 for 600: You mixed the units. 1714 is for gpm and psi and gives hp; 600 is for L/min and bar and gives kW.
    loss added: You added the missing share on top. The efficiency is a share of what goes in, so divide by it.
    """,
    kind="power",
    answer=lambda p: shaft_power(p["flow"], p["gauge"], p["share"]),
    wrong={
        "efficiency left out": lambda p: p["flow"] * p["gauge"],
        "efficiency upside down": lambda p: p["flow"] * p["gauge"] * p["share"],
        "1714 for 600": lambda p: p["flow"] * p["gauge"] / p["share"] * 600.0 / 1714.0,
        "loss added": lambda p: p["flow"] * p["gauge"] * (2.0 - p["share"]),
    },
    skills=("engine power",),
    draw=lambda rng: draw_machine(rng) | {"efficiency": rng.choice((0.7, 0.75, 0.8, 0.85))},
    given=lambda p: _pumped(p) | {"share": p["efficiency"]},
    shown={"flow": "flow", "gauge": "pressure", "efficiency": "fraction"},
)


def _draw_heights(rng):
    first = rng.choice((3500, 4000, 4500))
    return draw_machine(rng, ("yard_small_bore", "yard_trailer", "yard_truck")) | {
        "step": feet(1000),
        "free": feet(500),
        "altitude_1": feet(first),
        "altitude_2": feet(first + rng.choice((2000, 2500, 3000))),
        "altitude_3": feet(first + rng.choice((4500, 5000, 5500))),
    }


def _gone(p, at):
    """Share of its power that an engine loses at altitude number `at`, by the rule."""
    return 0.03 * (p[f"altitude_{at}"] - p["free"]) / p["step"]


def _at_heights(share):
    """The three cells when an engine keeps share(what it loses by the rule) of its power."""
    return lambda p: tuple(p["power"] * share(_gone(p, at)) for at in (1, 2, 3))


_HEIGHT_KINDS = {"power": "power", "step": "altitude", "free": "altitude"}
_HEIGHT_KINDS |= {f"altitude_{at}": "altitude" for at in (1, 2, 3)}

ALTITUDE_TABLE = table(
    "10-altitude-table",
    """
    An engine in the mountains
    ask: The engine of the {called} draws its own air and gives {power} at sea level. Fill in what is left higher up, by
        the rule: 3 % less for each {step} above {free}.
    hint: Subtract the height that costs no power. How many steps of {step} are left?
    hint: Each step costs 3 % of the power at sea level. Subtract all of them from 100 %.
    what is lost: That is what the engine loses. How much is left?
    more power higher up: You added power. Thin air burns less fuel: does the engine give more, or less?
    twice the rule: You subtracted 3 % for each half step. Read the rule again.
    """,
    columns=(("altitude", "altitude"), ("power left", "power")),
    rows=lambda p: (
        (0.0, p["power"]),
        *((p[f"altitude_{at}"], p["power"] * (1.0 - _gone(p, at))) for at in (1, 2, 3)),
    ),
    blanks=((1, 1), (2, 1), (3, 1)),
    solution=worked(
        _HEIGHT_KINDS,
        lambda p: [
            (
                f"{{power}} × (1 − 0.03 × ({{altitude_{at}}} − {{free}}) / {{step}})",
                f"left_{at}",
                "power",
                p["power"] * (1.0 - _gone(p, at)),
            )
            for at in (1, 2, 3)
        ],
    ),
    wrong={
        "what is lost": _at_heights(lambda gone: gone),
        "more power higher up": _at_heights(lambda gone: 1.0 + gone),
        "twice the rule": _at_heights(lambda gone: 1.0 - 2.0 * gone),
    },
    tolerance=0.02,
    skills=("altitude",),
    draw=_draw_heights,
    given=lambda p: {"power": float(rig_of(p).engine.power)},
    shown=_HEIGHT_KINDS,
)

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

# --- water ------------------------------------------------------------------------------------------


def _draw_tank(rng):
    machine = draw_machine(rng, throttles=(0.9, 1.0))
    return machine | {
        "jets": rng.choice((0.6, 0.7, 0.8)),
        "volume": gallons(rng.choice(TANKS[machine["rig"]])),
        "usable": rng.choice((0.8, 0.85, 0.9)),
        "part": rng.choice((0.1, 0.15, 0.2)),
    }


def _tank_flows(p):
    found = pumped_and_back(p)
    return found | {"refill": p["part"] * found["pumped"], "share": p["usable"]}


def _tank_time(p, usable=None, back=1.0, refill=1.0):
    net = p["pumped"] - back * p["back"] - refill * p["refill"]
    return p["volume"] * (p["share"] if usable is None else usable) / net


def _tank_silly(p):
    net = p["pumped"] - p["back"] - p["refill"]
    return p["back"] < 0.1 * p["pumped"] or net < 0.2 * p["pumped"] or not 180.0 <= _tank_time(p) <= 10800.0


TANK_TIME = numeric(
    "10-tank-time",
    """
    How long the tank lasts
    ask: The jets of the {called} are one size too small. Its tank of {volume} is full; {usable} of it can be used
        before the pump draws air. The pump delivers {pumped}, and {back} of that returns to the tank through the bypass
        valve. A hose fills in {refill}. How long can you jet?
    hint: How much leaves for good? Only the water that leaves the nozzle. Then subtract what flows in.
    hint: Divide the water that can be used by how fast the tank level falls.
    solve: Out of the nozzle: {pumped} − {back} -> out flow
    solve: The tank loses: {out} − {refill} -> net flow
    solve: Water that can be used: {volume} × {share} -> water volume
    solve: {water} / {net} -> lasts duration
    bypass counted as gone: You counted all that the pump delivers as gone. What returns is in the tank again.
    filling left out: You left the filling hose out. It makes up for some of the water.
    whole tank used: You used the tank to the last drop. The pump draws air before that.
    only what goes back counted: You divided by the water that returns. Which water leaves the tank for good?
    """,
    kind="duration",
    answer=_tank_time,
    wrong={
        "bypass counted as gone": lambda p: _tank_time(p, back=0.0),
        "filling left out": lambda p: _tank_time(p, refill=0.0),
        "whole tank used": lambda p: _tank_time(p, usable=1.0),
        "only what goes back counted": lambda p: p["volume"] * p["share"] / p["back"],
    },
    tolerance=0.04,
    skills=("tank time",),
    draw=_draw_tank,
    given=_tank_flows,
    reject=_tank_silly,
    shown={"volume": "volume", "usable": "fraction", "pumped": "flow", "back": "flow", "refill": "flow"},
)

# --- heat -------------------------------------------------------------------------------------------


def _draw_warming(rng):
    machine = draw_machine(rng, ("yard_cart", "yard_small_bore", "yard_trailer"), (0.5, 0.6, 0.7, 0.8, 0.9, 1.0))
    return machine | {
        "shut": 1,
        "volume": gallons(rng.choice(TANKS[machine["rig"]])),
        "start": fahrenheit(rng.choice((50, 55, 60, 65, 70, 75))),
        "limit": fahrenheit(rng.choice((120, 130, 140))),
    }


def _all_back(p):
    found = readings(p, "gauge", "pump_flow")
    return {"gauge": found["gauge"], "back": found["pump_flow"], "rise": p["limit"] - p["start"]}


def _warming_time(p):
    power = p["back"] * p["gauge"]
    return float(heat.tank_warm_up_time(power, volume=p["volume"], start=p["start"], limit=p["limit"], **_WATER))


_ZERO_F, _ZERO_C = 273.15 - 32.0 / 1.8, 273.15  # K


def _from_zero(p, zero):
    """The time if the rise were the limit itself on a scale that begins at `zero` (K)."""
    return _warming_time(p) * (p["limit"] - zero) / (p["limit"] - p["start"])


_FROM_ZERO = "You warmed the water from zero on the scale. It has to warm only from its start to the limit."

WARM_UP = numeric(
    "10-warm-up",
    f"""
    Until the water is too hot
    ask: The outlet of the {{called}} is shut. {{back}} goes round through the bypass valve at a gauge reading of
        {{gauge}}, back into a tank that holds {{volume}} at {{start}}. The pump's manual allows {{limit}}. How long can
        it run until you have to stop it?
    hint: First the heat: gauge reading × flow that returns, in hp or kW. And by how many degrees can the water warm?
    hint: Rise in °F = 5.08 × hp × minutes / gallons. Rise in °C = 14.3 × kW × minutes / liters. Solve for the minutes.
    solve: Heat: {{back}} × {{gauge}} / {POWER} -> heat power
    solve: The water can warm by: {{limit}} − {{start}} -> rise temperature_difference
    solve: Minutes: {{rise}} × {{volume}} / ({_WARMING} × {{heat}}) -> time duration
    start left out: {_FROM_ZERO}
    start left out in °C: {_FROM_ZERO}
    °F and °C mixed: You mixed the two scales. °F is for hp and gallons, °C for kW and liters.
    hours for minutes: Power and heat are right. Look at the time: is it in minutes, or in hours?
    """,
    kind="duration",
    answer=_warming_time,
    wrong={
        "start left out": lambda p: _from_zero(p, _ZERO_F),
        "start left out in °C": lambda p: _from_zero(p, _ZERO_C),
        "°F and °C mixed": lambda p: 1.8 * _warming_time(p),
        "hours for minutes": lambda p: _warming_time(p) / 60.0,
    },
    tolerance=0.05,
    skills=("heat in bypass",),
    draw=_draw_warming,
    given=_all_back,
    reject=lambda p: not 240.0 <= _warming_time(p) <= 6.0 * 3600.0,
    shown={"gauge": "pressure", "back": "flow", "volume": "volume", "start": "temperature", "limit": "temperature"},
)

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
            "Your order is the wrong way round: the slowest is first.",
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


def _draw_pull_back(rng):
    return draw_machine(rng) | {
        "length": feet(rng.randrange(50, 301, 25)),
        "speed": feet_per_second(rng.choice((0.2, 0.25, 0.3, 0.4, 0.5))),
        "passes": rng.choice((2, 3)),
    }


def _water_used(p):
    return p["flow"] * p["passes"] * p["length"] / p["speed"]


PULL_BACK = numeric(
    "10-pull-back-water",
    """
    Water for the way back
    ask: {flow} leaves the nozzle of the {called}. You pull it back {passes} times through {length} of pipe, at {speed}.
        How much water does that need, without the ways in?
    hint: How long does it take to come back once? Length divided by hose speed, in seconds; then in minutes.
    hint: Multiply by the number of passes and by the flow.
    solve: Once back: {length} / {speed} -> once time
    solve: In all: {passes} × {once} -> time time
    solve: Water: {flow} × {time} / 60 -> water volume
    one pass only: That is enough for once. How often do you pull it back?
    speed multiplied: You multiplied the length by the hose speed. Does it take longer to go slowly, or to go fast?
    """,
    kind="volume",
    wrong={
        "one pass only": "{flow} × {once} / 60",
        "seconds taken as minutes": lambda p: _water_used(p) * 60.0 if _water_used(p) < 1.5 else None,
        "speed multiplied": "{flow} × {passes} × {length} × {speed} / 60",
        "Imperial gallon for US gallon": lambda p: _water_used(p) / IMPERIAL_GALLON_RATIO,
    },
    skills=("pull-back speed", "tank time"),
    draw=_draw_pull_back,
    given=lambda p: {"flow": readings(p, "nozzle_flow")["nozzle_flow"]},
    shown={"flow": "flow", "length": "length", "speed": "velocity"},
)

# --- words and safe working -------------------------------------------------------------------------

TERMS = name_it(
    "10-terms",
    """
    shaft power | what the engine has to give at the coupling of the pump | hydraulic power
    hydraulic power | flow times pressure: what is in the water | shaft power
    bog | to slow down because more is needed than the engine has | cavitation
    cavitation | vapor bubbles at the pump inlet that collapse, rattle and pit metal | bog
    efficiency | the share of what goes in that comes out again | usable water
    usable water | the part of a tank that can be pumped before air is drawn in | efficiency
    fall | how much lower one end of a pipe is, divided by its length | debris
    debris | sand, grit and all else that has to be carried out of the pipe | fall
    """,
)

SAFE_ENGINE = safe_ways(
    "10-safe-engine",
    """
    The machine is running and the job goes on. Which of these ways of working are safe?
    safe outside: Run the engine in the open, with its exhaust pointing away from doors, windows and the chamber
    safe stop: Stop the pump when nobody is jetting, instead of letting the water go round in bypass
    safe ears: Wear hearing protection at the machine, and agree on hand signals with the second person
    safe gfci: Plug an electric cart into an outlet with a GFCI, and keep the plug out of the wet
    unsafe room: Run the engine in the cellar with a window open | Exhaust gas contains carbon monoxide. It has no
        smell, and a window does not clear it
    unsafe fuel: Fill up with fuel while the engine runs | Fuel on a hot exhaust catches fire. Stop the engine and let
        it cool
    unsafe touch: Feel with a hand how hot the water is that returns to the tank | Water that has gone round in bypass
        scalds. Read a thermometer, with the pump stopped
    unsafe inlet: Leave the outlet shut for a phone call, with the bypass leading to the pump inlet | A short loop is
        hot within a minute. It destroys the pump, and it scalds
    """,
)

EXERCISES = (
    SHAFT_POWER, ALTITUDE_TABLE, LESS_POWER, TANK_TIME, WARM_UP, ORDER_HEAT, GRAINS, PULL_BACK, TERMS, SAFE_ENGINE,
)  # fmt: skip

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
