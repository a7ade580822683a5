"""Pictures and consoles: what a notebook shows. No physics here.

Names load when they are first used; `evidence` is a module of its own.
"""

from importlib import import_module

_ROOMS = {
    "bench.bench": "open_bench",
    "classroom.class_progress": "class_progress",
    "classroom.hidden_fault.console": "hidden_fault",
    "classroom.live_rig": "live_rig",
    "classroom.session_plans": "session_plans",
    "classroom.vote": "room_vote",
    "consoles.band_console": "band_console bands_table",
    "consoles.bypass_console": "bypass_console rig_console valve_console",
    "consoles.circuit_console": "changed_line circuit_console",
    "consoles.diagnosis_console": "diagnosis_console",
    "consoles.fault_console": "fault_console signature_table",
    "consoles.flush_console": "flush_console",
    "consoles.hose_choice_console": "last_hose_console step_down_console",
    "consoles.hose_console": "hose_console",
    "consoles.jets_console": "jets_console same_area_console",
    "consoles.job_card": "job_card",
    "consoles.plan_console": "doubt_console plan_console",
    "consoles.pull_console": "cut_console pull_console",
    "consoles.pump_console": "amounts_console outlet_rig pump_console",
    "consoles.reach_console": "reach_console",
    "consoles.sizing_console": "drills_console sets_console",
    "consoles.surge_console": "surge_console",
    "consoles.supply_console": "power_console tank_console tank_supply",
    "controls.units_choice": "units_choice use_units",
    "drawing.comparison": "Marks comparison lines_of percent",
    "drawing.diagnosis_picture": "steps_table",
    "learning.course_map": "course_map",
    "learning.practice": "practice",
    "learning.prediction": "prediction",
    "learning.progress_view": "progress",
    "rules.console": "names_table own_rule_console rules_console rules_table tally_table",
}
_HOME = {name: f"jetlib.screen.{room}" for room, names in _ROOMS.items() for name in names.split()}

__all__ = sorted(_HOME)  # noqa: PLE0605


def __getattr__(name):
    if name not in _HOME:
        raise AttributeError(f"jetlib.screen has no {name!r}; it has {', '.join(__all__)}")
    value = getattr(import_module(_HOME[name]), name)
    globals()[name] = value
    return value


def __dir__():
    return sorted([*globals(), *__all__])
