"""Pictures and consoles: what a notebook shows. No physics here.

Names load when they are first used; `evidence` is a module of its own.
"""

from importlib import import_module

from jetlib.course.pages.consoles import CONSOLES

#: Where each name that is no console is at home; the consoles are in `jetlib.course.pages.consoles`.
_ROOMS = {
    "classroom.print_panel": "print_panel",
    "consoles.band_console": "bands_table",
    "consoles.circuit_console": "changed_line",
    "consoles.fault_console": "signature_table",
    "consoles.plan_console": "job_card",
    "consoles.pump_console": "outlet_rig",
    "consoles.supply_console": "tank_supply",
    "controls.units_choice": "units_choice use_units",
    "drawing.comparison": "Marks comparison lines_of percent",
    "drawing.diagnosis_picture": "steps_table",
    "drawing.still": "still",
    "learning.final_check": "final_check",
    "learning.practice": "practice",
    "learning.prediction": "prediction",
    "learning.progress_view": "course_map go_on progress warm_up",
    "rules.console": "names_table rules_table tally_table",
}
_HOME = {name: f"jetlib.screen.{room}" for room, names in _ROOMS.items() for name in names.split()}
_HOME |= {name: record.home for name, record in CONSOLES.items()}

__all__ = sorted(_HOME)  # noqa: PLE0605


def __getattr__(name):
    if name not in _HOME:
        raise AttributeError(f"jetlib.screen has no {name!r}; it has {', '.join(__all__)}")
    value = getattr(import_module(_HOME[name]), name)
    globals()[name] = value
    return value


def __dir__():
    return sorted([*globals(), *__all__])
