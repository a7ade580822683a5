"""Practice and predictions of lesson 10: engine, tank, heat, and what the water carries down the drain."""

from itertools import pairwise

from jetlib.course.exercises import (
    FillTable,
    Mistake,
    MultipleChoice,
    Numeric,
    Ordering,
    PredictedChoice,
    PredictedCurve,
    mistakes,
)
from jetlib.course.exercises.mistakes import altered, scaled
from jetlib.physics import heat, water
from jetlib.physics.air import engine_power_factor
from jetlib.physics.draining_tank import emptying_time
from jetlib.physics.power import hydraulic_power, shaft_power
from jetlib.rig.job.flushing import DEBRIS, flushing, shear_that_moves
from jetlib.rig.parts.drain import Drain
from jetlib.units import si, to_si

_WATER = {"density": water.density(288.15), "specific_heat": water.specific_heat(288.15)}
_GRAINS = tuple(name for name, size in DEBRIS.items() if size is not None)


def _psi(number):
    return to_si(number, "pressure", "US")


def _gpm(number):
    return to_si(number, "flow", "US")


def _gallons(number):
    return to_si(number, "volume", "US")


def _feet(number):
    return to_si(number, "length", "US")


def _hp(number):
    return to_si(number, "power", "US")


# --- engine -----------------------------------------------------------------------------------------


def _draw_engine(rng):
    return {
        "flow": _gpm(rng.randrange(8, 51) / 2.0),
        "gauge": _psi(rng.randrange(1500, 3600, 100)),
        "efficiency": rng.choice((0.75, 0.8, 0.85, 0.88)),
    }


def _shaft(p):
    return shaft_power(p["flow"], p["gauge"], p["efficiency"])


SHAFT_POWER = Numeric(
    id="10-shaft-power",
    title="What the engine must give",
    skills=("engine power",),
    draw=_draw_engine,
    shown={"flow": "flow", "gauge": "pressure", "efficiency": "fraction"},
    ask="A pump delivers {flow} and the gauge reads {gauge}. Pump and drive together have an efficiency of "
    "{efficiency}. What power must the engine give?",
    kind="power",
    answer=_shaft,
    mistakes=(
        mistakes.efficiency_left_out(lambda p: hydraulic_power(p["flow"], p["gauge"])),
        mistakes.efficiency_upside_down(lambda p: hydraulic_power(p["flow"], p["gauge"]) * p["efficiency"]),
        Mistake(
            "1714 for 600",
            "The figures do not fit together. 1714 wants gpm and psi and gives hp; 600 wants L/min and bar and gives "
            "kW.",
            scaled(_shaft, 600.0 / 1714.0),
        ),
        Mistake(
            "loss added",
            "It looks as if the missing share was added on top. Close, but the efficiency is a share of what goes in.",
            lambda p: hydraulic_power(p["flow"], p["gauge"]) * (2.0 - p["efficiency"]),
        ),
    ),
    hints=(
        "First the power in the water: gpm × psi / 1714 in hp, or L/min × bar / 600 in kW.",
        "The engine must give more than arrives in the water. Divide by the efficiency, written as 0.85 for 85 %.",
    ),
    solution=lambda p, show: (
        f"In the water: {show(p['flow'], 'flow')} × {show(p['gauge'], 'pressure')} is "
        f"{show(hydraulic_power(p['flow'], p['gauge']), 'power')}.\n\n"
        f"Divided by {p['efficiency']:g}: {show(_shaft(p), 'power')}."
    ),
)


def _draw_heights(rng):
    first = rng.choice((3500, 4000, 4500))
    return {
        "power": _hp(rng.choice((11, 13, 16, 18, 20, 22, 24, 27, 35, 48))),
        "altitude_1": _feet(first),
        "altitude_2": _feet(first + rng.choice((2000, 2500, 3000))),
        "altitude_3": _feet(first + rng.choice((4500, 5000, 5500))),
    }


def _heights(p):
    return (0.0, p["altitude_1"], p["altitude_2"], p["altitude_3"])


def _at_heights(share):
    """The three cells when an engine keeps share(altitude) of its power."""
    return lambda p: tuple(p["power"] * share(height) for height in _heights(p)[1:])


def _kept(altitude):
    return float(engine_power_factor(altitude))


ALTITUDE_TABLE = FillTable(
    id="10-altitude-table",
    title="An engine in the mountains",
    skills=("altitude",),
    draw=_draw_heights,
    shown={"power": "power"},
    ask="An engine that draws its own air gives {power} at sea level. Fill in what it has left higher up, by the rule: "
    f"3 % less for each {_feet(1000):.0f} m (1000 ft) above {_feet(500):.0f} m (500 ft).",
    columns=(("altitude", "altitude"), ("power left", "power")),
    rows=lambda p: tuple((height, p["power"] * _kept(height)) for height in _heights(p)),
    blanks=((1, 1), (2, 1), (3, 1)),
    tolerance=0.02,
    mistakes=(
        Mistake(
            "what is lost",
            "That is what the engine loses. What has it left?",
            _at_heights(lambda height: 1.0 - _kept(height)),
        ),
        Mistake(
            "more power higher up",
            "It looks as if power was added. Thin air burns less fuel: does the engine give more, or less?",
            _at_heights(lambda height: 2.0 - _kept(height)),
        ),
        Mistake(
            "twice the rule",
            "It looks as if 3 % was taken off for each half of the step. Read the rule again.",
            _at_heights(lambda height: 1.0 - 2.0 * (1.0 - _kept(height))),
        ),
    ),
    hints=(
        "Take off the part that is free. How many steps of 1000 ft (305 m) are left?",
        "Each step costs 3 parts in a hundred of the power at sea level. What is left is the rest.",
    ),
    solution=lambda p, show: (
        "Altitude less the free part, in steps, times 3 %, off the power at sea level:\n\n"
        + "\n".join(
            f"{show(height, 'altitude')}: {100 * (1.0 - _kept(height)):.1f} % lost, "
            f"{show(p['power'] * _kept(height), 'power')} left"
            for height in _heights(p)[1:]
        )
    ),
)

# Power asked for by a change: (words, flow ratio, gauge ratio).
_CHANGES = {
    "throttle": ("Pull the throttle back by a fifth, so that the valve shuts", 0.8, 0.8**2),
    "larger-jets": ("Fit larger jets, so that the gauge falls by a fifth and the valve shuts", 1.0, 0.8),
    "smaller-jets": ("Fit smaller jets; the gauge stays at the valve's setting, and more goes back", 1.0, 1.0),
    "thin-hose": ("Add thin hose; the gauge stays at the valve's setting, and more goes back", 1.0, 1.0),
    "lower-setting": ("Have the valve set a fifth lower by a licensed fitter", 1.0, 0.8),
}


def _less_power(p):
    return [name for name in p["offered"] if _CHANGES[name][1] * _CHANGES[name][2] < 0.95]


def _draw_changes(rng):
    helps = rng.sample(("throttle", "larger-jets", "lower-setting"), rng.choice((1, 2)))
    offered = [*helps, "smaller-jets", "thin-hose"]
    return {"offered": tuple(offered), "gauge": _psi(rng.randrange(2000, 3600, 100))}


LESS_POWER = MultipleChoice(
    id="10-less-power",
    title="The engine bogs",
    skills=("engine power", "bypass"),
    draw=_draw_changes,
    shown={"gauge": "pressure"},
    ask="High up, an engine bogs at full throttle. The gauge stands at the valve's setting, {gauge}, and water goes "
    "back to the tank. Which of these make the pump ask for less power?",
    options=lambda p: tuple((name, _CHANGES[name][0]) for name in p["offered"]),
    answer=_less_power,
    mistakes=(
        Mistake(
            "less water at the nozzle taken as less power",
            "It looks as if less water at the nozzle was taken to ask for less. The pump still moves all of it, at the "
            "same gauge.",
            lambda p: ["smaller-jets", "thin-hose"],
        ),
        Mistake(
            "everything ticked",
            "Not all of them. Power is the pump's flow times the gauge: what becomes of the two in each case?",
            lambda p: list(p["offered"]),
        ),
    ),
    hints=(
        "The pump's power is its own flow times the gauge, wherever the water goes afterwards.",
        "Look for what makes the pump turn more slowly, or the gauge fall.",
    ),
    solution=lambda p, show: (
        "Power is the pump's whole flow times the gauge. Against now:\n\n"
        + "\n".join(
            f"{_CHANGES[name][0]}: {_CHANGES[name][1]:.2g} × {_CHANGES[name][2]:.2g} = "
            f"{_CHANGES[name][1] * _CHANGES[name][2]:.2g}"
            for name in p["offered"]
        )
        + "\n\nWater that goes back was pumped up first, and costs as much as the rest."
    ),
)

# --- water ------------------------------------------------------------------------------------------


def _draw_tank(rng):
    pumped = rng.randrange(10, 51) / 2.0
    return {
        "volume": _gallons(rng.choice((60, 80, 100, 120, 150, 200, 300, 500))),
        "usable": rng.choice((0.8, 0.85, 0.9)),
        "pumped": _gpm(pumped),
        "back": _gpm(round(2.0 * pumped * rng.choice((0.15, 0.2, 0.3, 0.4))) / 2.0),
        "refill": _gpm(max(1, round(2.0 * pumped * rng.choice((0.1, 0.15, 0.2)))) / 2.0),
    }


def _leaves(p):
    return p["pumped"] - p["back"]


def _tank_time(p):
    return float(emptying_time(p["volume"] * p["usable"], _leaves(p) - p["refill"]))


def _tank_silly(p):
    net = _leaves(p) - p["refill"]
    return p["back"] < 0.1 * p["pumped"] or net < 0.2 * p["pumped"] or not 180.0 <= _tank_time(p) <= 10800.0


def _solve_tank(p, show):
    net = _leaves(p) - p["refill"]
    return (
        f"Out of the nozzle: {show(p['pumped'], 'flow')} − {show(p['back'], 'flow')} = {show(_leaves(p), 'flow')}. "
        "What goes back is not lost.\n"
        f"The filling hose gives {show(p['refill'], 'flow')}, so the tank goes down by {show(net, 'flow')}.\n"
        f"Water that can be used: {show(p['volume'] * p['usable'], 'volume')}.\n\n"
        f"{show(p['volume'] * p['usable'], 'volume')} / {show(net, 'flow')} is {show(_tank_time(p), 'duration')}."
    )


TANK_TIME = Numeric(
    id="10-tank-time",
    title="How long the tank lasts",
    skills=("tank time",),
    draw=_draw_tank,
    reject=_tank_silly,
    shown={"volume": "volume", "usable": "fraction", "pumped": "flow", "back": "flow", "refill": "flow"},
    ask="A tank of {volume} is full; {usable} of it can be used before the pump draws air. The pump delivers {pumped}, "
    "and {back} of that comes back to the tank through the valve. A hose fills in {refill}. How long can one jet?",
    kind="duration",
    answer=_tank_time,
    tolerance=0.04,
    mistakes=(
        Mistake(
            "bypass counted as gone",
            "It looks as if all that the pump delivers was taken as gone. What comes back is in the tank again.",
            altered(_tank_time, back=0.0),
        ),
        Mistake(
            "filling left out",
            "It looks as if nothing flowed in meanwhile. The filling hose makes up for some of it.",
            altered(_tank_time, refill=0.0),
        ),
        Mistake(
            "whole tank used",
            "It looks as if the tank was used to the last drop. The pump draws air before that.",
            altered(_tank_time, usable=1.0),
        ),
        Mistake(
            "only what goes back counted",
            "It looks as if the water that goes back was divided by. Which water leaves the tank for good?",
            lambda p: p["volume"] * p["usable"] / p["back"],
        ),
    ),
    hints=(
        "How much leaves for good? Only what goes out of the nozzle does. Then take off what flows in.",
        "Divide the water that can be used by how fast the tank goes down.",
    ),
    solution=_solve_tank,
)

# --- heat -------------------------------------------------------------------------------------------


def _draw_warming(rng):
    return {
        "gauge": _psi(rng.randrange(1500, 3600, 100)),
        "back": _gpm(rng.randrange(2, 25) / 2.0),
        "volume": _gallons(rng.choice((40, 50, 60, 80, 100, 150, 200))),
        "start": to_si(rng.choice((50, 55, 60, 65, 70, 75)), "temperature", "US"),
        "limit": to_si(rng.choice((120, 130, 140)), "temperature", "US"),
    }


def _warming_power(p):
    return hydraulic_power(p["back"], p["gauge"])


def _warming_time(p):
    return float(
        heat.tank_warm_up_time(_warming_power(p), volume=p["volume"], start=p["start"], limit=p["limit"], **_WATER)
    )


_ZERO_F, _ZERO_C = 273.15 - 32.0 / 1.8, 273.15  # K
_START_LEFT_OUT = (
    "It looks as if the water began at nothing on the scale. It need only warm from where it is to the limit."
)


def _from_nothing(p, zero):
    """The time if the rise were the limit itself on a scale that begins at `zero` (K)."""
    return _warming_time(p) * (p["limit"] - zero) / (p["limit"] - p["start"])


def _solve_warming(p, show):
    rise = p["limit"] - p["start"]
    capacity = "5.1 × hp × minutes / gallons in °F" if show.system == "US" else "14.3 × kW × minutes / litres in °C"
    return (
        f"Heat: {show(p['gauge'], 'pressure')} × {show(p['back'], 'flow')} is {show(_warming_power(p), 'power')}.\n"
        f"It may warm by {show(rise, 'temperature_difference')}.\n\n"
        f"The rise is {capacity}. Turned round for the minutes: {show(_warming_time(p), 'duration')}."
    )


WARM_UP = Numeric(
    id="10-warm-up",
    title="Until the water is too hot",
    skills=("heat in bypass",),
    draw=_draw_warming,
    reject=lambda p: not 240.0 <= _warming_time(p) <= 6.0 * 3600.0,
    shown={"gauge": "pressure", "back": "flow", "volume": "volume", "start": "temperature", "limit": "temperature"},
    ask="With the outlet shut, {back} goes round through the valve at a gauge of {gauge}, back into a tank that holds "
    "{volume} at {start}. The pump's manual allows {limit}. After how long must the machine be stopped at the latest?",
    kind="duration",
    answer=_warming_time,
    tolerance=0.05,
    mistakes=(
        Mistake("start left out", _START_LEFT_OUT, lambda p: _from_nothing(p, _ZERO_F)),
        Mistake("start left out in °C", _START_LEFT_OUT, lambda p: _from_nothing(p, _ZERO_C)),
        Mistake(
            "°F and °C mixed",
            "The two scales have come together. In the formulas, °F goes with hp and gallons, °C with kW and litres.",
            scaled(_warming_time, 1.8),
        ),
        Mistake(
            "hours for minutes",
            "The power and the heat fit, but look at the time: minutes, or hours?",
            scaled(_warming_time, 1.0 / 60.0),
        ),
    ),
    hints=(
        "First the heat: gauge times the flow that goes back, in hp or kW. And by how many degrees may the water warm?",
        "Rise in °F = 5.1 × hp × minutes / gallons. Rise in °C = 14.3 × kW × minutes / litres. Turn it round for the "
        "minutes.",
    ),
    solution=_solve_warming,
)


_LOOP = si("2 L", "volume")


def _draw_states(rng):
    return {
        "power": _hp(rng.randrange(6, 31)),
        "large": _gallons(rng.choice((150, 200, 250, 300))),
        "small": _gallons(rng.choice((50, 60, 80, 100))),
        "left": _gallons(rng.choice((10, 15, 20, 25, 30))),
        "share": rng.choice((0.1, 0.15, 0.2, 0.3)),
    }


def _heating(p):
    """How fast the water that takes the heat warms in each state, K/s."""
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


_STATES = (
    ("jetting", "Jetting: all the water leaves by the nozzle"),
    ("part", "Jetting: {share} comes back to a tank with only {left} in it"),
    ("shut-large", "Outlet shut: all back to a tank of {large}"),
    ("shut-small", "Outlet shut: all back to a tank of {small}"),
    ("loop", "Outlet shut: all back to the inlet, half a gallon (2 L)"),
)


def _solve_order(p, show):
    rates = _heating(p)
    names = {"jetting": "all out", "part": "some back", "loop": "to the inlet"}
    names |= {"shut-large": "shut, large tank", "shut-small": "shut, small tank"}
    rows = (f"{names[key]}: {show(60.0 * rates[key], 'temperature_difference')}" for key in _slowest_first(p))
    return "Power that comes back, over the water that takes it. Rise in the first minute:\n\n" + "\n".join(rows)


ORDER_HEAT = Ordering(
    id="10-order-heat",
    title="From the coolest to the hottest",
    skills=("heat in bypass",),
    draw=_draw_states,
    reject=_rates_too_near,
    shown={"power": "power", "large": "volume", "small": "volume", "left": "volume", "share": "fraction"},
    ask="The pump puts {power} into its water. Some of it may come back as heat. Put these in order of how fast the "
    "water warms that takes the heat, the slowest first.",
    options=_STATES,
    answer=_slowest_first,
    mistakes=(
        mistakes.upside_down(
            lambda p: _slowest_first(p)[::-1], "The order is turned over: the slowest was to come first."
        ),
        Mistake(
            "only the water counted",
            "It looks as if only the amount of water was looked at. How much of the power comes back counts as well.",
            _most_water_first,
        ),
        Mistake(
            "the inlet taken as a way out",
            "Back to the inlet is not gone. Those few litres go round and round, and take all the heat.",
            lambda p: ("jetting", "loop", *_slowest_first(p)[1:-1]),
        ),
    ),
    hints=(
        "Two things count: how much power comes back, and how much water there is to take it.",
        "Divide one by the other. For a share of the water, take that share of the power.",
    ),
    solution=_solve_order,
)

# --- down the drain ---------------------------------------------------------------------------------


def _draw_drain(rng):
    return {
        "flow": _gpm(rng.choice((2, 4, 8, 12, 20, 30))),
        "bore": si(f"{rng.choice((4, 6, 8))} in", "pipe_bore"),
        "fall": rng.choice((0.005, 0.01, 0.02, 0.04)),
    }


def _runs_off(p):
    return flushing(p["flow"], Drain(bore=p["bore"], length=30.0, fall=p["fall"]))


def _moved(p):
    shear = float(_runs_off(p).shear)
    return [name for name in _GRAINS if shear_that_moves(DEBRIS[name]) <= shear]


def _near_a_limit(p):
    shear = float(_runs_off(p).shear)
    return any(abs(shear / shear_that_moves(DEBRIS[name]) - 1.0) < 0.1 for name in _GRAINS)


def _grain_words(name):
    return lambda p, show: f"{name[0].upper()}{name[1:]}, up to {show(DEBRIS[name], 'leak_bore', 2)}"


def _solve_grains(p, show):
    found = _runs_off(p)
    rows = "\n".join(
        f"{_grain_words(name)(p, show)}: needs {shear_that_moves(DEBRIS[name]):.2g} Pa" for name in _GRAINS
    )
    return (
        f"The water drags on the wall with {float(found.shear):.2g} Pa.\n\n{rows}\n\n"
        "It takes along whatever needs no more than that."
    )


GRAINS = MultipleChoice(
    id="10-which-grains",
    title="What the water takes along",
    skills=("debris transport",),
    draw=_draw_drain,
    reject=lambda p: not 1 <= len(_moved(p)) < len(_GRAINS) or _near_a_limit(p),
    shown={"flow": "flow", "bore": "pipe_bore", "fall": "slope"},
    ask=lambda p, show: (
        f"{show(p['flow'], 'flow')} runs off down a clean pipe of {show(p['bore'], 'pipe_bore')} that falls "
        f"{show(p['fall'], 'slope')}. It drags on the wall with {float(_runs_off(p).shear):.2g} Pa, and runs "
        f"{show(_runs_off(p).depth_ratio * p['bore'], 'pipe_bore')} deep. What does it take along by itself?"
    ),
    options=tuple((name, _grain_words(name)) for name in _GRAINS),
    answer=_moved,
    mistakes=(
        mistakes.upside_down(
            lambda p: [name for name in _GRAINS if name not in _moved(p)],
            "That is what stays behind. Do fine grains move more easily, or coarse ones?",
        ),
        Mistake(
            "one size too far",
            "The coarsest that you ticked asks for more than this water has.",
            lambda p: [*_moved(p), _GRAINS[len(_moved(p))]],
        ),
        Mistake(
            "only the coarsest",
            "That one moves. If it moves, what about the finer ones?",
            lambda p: _moved(p)[-1:] if len(_moved(p)) > 1 else None,
        ),
    ),
    hints=(
        "Look at the table of grains in the lesson: how hard must the water drag for each?",
        "All those that ask for no more than this water has go along; the others stay.",
    ),
    solution=_solve_grains,
)


def _draw_pull_back(rng):
    return {
        "flow": _gpm(rng.randrange(8, 51) / 2.0),
        "length": _feet(rng.randrange(40, 301, 10)),
        "speed": to_si(rng.choice((0.2, 0.25, 0.3, 0.4, 0.5)), "velocity", "US"),
        "passes": rng.choice((2, 3)),
    }


def _water_used(p):
    return p["flow"] * p["passes"] * p["length"] / p["speed"]


def _solve_pull_back(p, show):
    once = p["length"] / p["speed"]
    return (
        f"Once back: {show(p['length'], 'length')} at {show(p['speed'], 'velocity')} takes {show(once, 'duration')}.\n"
        f"{p['passes']} times: {show(p['passes'] * once, 'duration')}.\n\n"
        f"{show(p['flow'], 'flow')} for so long is {show(_water_used(p), 'volume')}."
    )


PULL_BACK = Numeric(
    id="10-pull-back-water",
    title="Water for the way back",
    skills=("pull-back speed", "tank time"),
    draw=_draw_pull_back,
    reject=lambda p: not _gallons(30) <= _water_used(p) <= _gallons(400),
    shown={"flow": "flow", "length": "length", "speed": "velocity"},
    ask="{flow} leaves the nozzle. It is pulled back {passes} times through {length} of pipe, at {speed}. How much "
    "water does that take, the ways in not counted?",
    kind="volume",
    answer=_water_used,
    mistakes=(
        Mistake(
            "one pass only",
            "That is enough for once. How often is it pulled back?",
            altered(_water_used, passes=1),
        ),
        mistakes.seconds_for_minutes(
            scaled(_water_used, 60.0),
            "Look at the time: length over speed gives seconds, and the flow is for each minute.",
        ),
        Mistake(
            "speed multiplied",
            "It looks as if length was multiplied by speed. Does it take longer to go slowly, or to go fast?",
            lambda p: p["flow"] * p["passes"] * p["length"] * p["speed"] / 0.3048**2,
        ),
        mistakes.imperial_gallon(
            scaled(_water_used, 1.0 / mistakes.IMPERIAL_GALLON_RATIO),
            "It looks as if the gallon was the Imperial one of 4.55 L. This course's gallon is the US one of 3.79 L.",
        ),
    ),
    hints=(
        "How long does it take to come back once? Length divided by speed, in seconds; then in minutes.",
        "Times the number of passes, times the flow.",
    ),
    solution=_solve_pull_back,
)

EXERCISES = (
    SHAFT_POWER,
    ALTITUDE_TABLE,
    LESS_POWER,
    TANK_TIME,
    WARM_UP,
    ORDER_HEAT,
    GRAINS,
    PULL_BACK,
)

# --- predictions ------------------------------------------------------------------------------------

POWER_CURVE = PredictedCurve(
    id="10-power-curve",
    title="The power against the engine's speed",
    parameters={"speed": si("3000 rpm", "speed"), "flow": _gpm(8.0), "pressure": _psi(3000), "efficiency": 0.85},
    shown={"speed": "speed", "flow": "flow", "pressure": "pressure"},
    ask="At {speed} a pump sends {flow} through its jets, and the gauge reads {pressure}; the valve is shut all the "
    "way. The engine is slowed down. Sketch the power that the pump asks for.",
    x=("engine speed", "speed"),
    y=("power", "power"),
    xs=tuple(si(f"{turns} rpm", "speed") for turns in (1000, 1500, 2000, 2500, 3000)),
    top=_hp(20),
    answer=lambda p, x: shaft_power(
        p["flow"] * (x / p["speed"]), p["pressure"] * (x / p["speed"]) ** 2, p["efficiency"]
    ),
    because="Flow goes with the speed, and pressure with the speed squared. Power is the two multiplied: at half the "
    "speed an eighth of it is left. That is why an engine that bogs finds its feet again a little lower down.",
)


def _loop_time(p):
    seconds = float(heat.tank_warm_up_time(p["power"], volume=p["loop"], start=p["start"], limit=p["limit"], **_WATER))
    return "seconds" if seconds < 100.0 else "minutes" if seconds < 1200.0 else "half-hour"


LOOP = PredictedChoice(
    id="10-loop",
    title="A phone call",
    parameters={
        "power": _hp(16),
        "loop": si("0.5 gal", "volume"),
        "start": si("60 degF", "temperature"),
        "limit": si("140 degF", "temperature"),
    },
    shown={"power": "power", "loop": "volume", "start": "temperature", "limit": "temperature"},
    ask="A valve does not return to the tank but to the pump's inlet, so {loop} of water goes round and round. "
    "The outlet is shut, the engine runs on and puts {power} into that water, which starts at {start}. The operator "
    "takes a phone call. When is the water at {limit}, where the seals begin to suffer?",
    options=(
        ("seconds", "Within a minute or so"),
        ("minutes", "In five or ten minutes"),
        ("half-hour", "In half an hour or more"),
    ),
    answer=_loop_time,
    because="All the engine's power stays in half a gallon. That is as if five strong electric kettles heated "
    "one pot between them. A full tank takes an hour or more for the same rise; the loop takes about half a minute.",
)


def _which_helps(p):
    def shear(flow, fall):
        return float(flushing(flow, Drain(bore=p["bore"], length=30.0, fall=fall)).shear)

    water, fall = shear(2.0 * p["flow"], p["fall"]), shear(p["flow"], 2.0 * p["fall"])
    return "same" if abs(water / fall - 1.0) < 0.05 else "water" if water > fall else "fall"


WATER_OR_FALL = PredictedChoice(
    id="10-water-or-fall",
    title="Twice the water, or twice the fall",
    parameters={"flow": _gpm(9), "bore": si("4 in", "pipe_bore"), "fall": 0.01},
    shown={"flow": "flow", "bore": "pipe_bore", "fall": "slope"},
    ask="{flow} runs off down a pipe of {bore} that falls {fall}, and takes sand and grit along. What would make it "
    "take coarser stuff: twice the water, or twice the fall?",
    options=(
        ("water", "Twice the water does more"),
        ("fall", "Twice the fall does more"),
        ("same", "Both do the same"),
    ),
    answer=_which_helps,
    because="More fall pulls on every drop. More water mostly makes the stream deeper and wider. Nobody can change the "
    "fall of a drain, but one can look it up: in a flat one the grit does not leave by itself.",
)

PREDICTIONS = (POWER_CURVE, LOOP, WATER_OR_FALL)
