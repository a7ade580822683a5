"""The one registry of consoles: on which page each is, who makes it, what can be set on it, what it shows.

Notebooks find their consoles by it, and so do session plans, printed lessons and tests. What can be set, with labels,
kinds and options, is read off the consoles themselves by `tests/consoles_table.py` and kept in data/consoles.json, so
that a plan is checked without a single widget.
"""

import json
from dataclasses import dataclass, field
from functools import cache
from importlib import import_module

from jetlib.errors import JetlibError
from jetlib.tables import DATA
from jetlib.units.refusal import cut

TABLE = DATA / "consoles.json"


@dataclass(frozen=True)
class Setting:
    """A control of a console: its label there, its kind of quantity ("" for words and counts), options {words: value}.

    Values are as JSON holds them.
    """

    label: str
    kind: str
    options: dict


@dataclass(frozen=True)
class ConsoleRecord:
    """A console: its name, the page (a stem) it is first met on, the module that makes it, the quantities it shows.

    shows: {what a class is told to look at: its kind}.
    """

    name: str
    page: str
    home: str
    shows: dict = field(default_factory=dict)

    def maker(self):
        """The function that makes it; loads widgets."""
        return getattr(import_module(self.home), self.name)

    @property
    def settings(self):
        """{name: Setting} of all that can be set on it."""
        return {name: Setting(*row) for name, row in _table().get(self.name, {}).items()}


@cache
def _table():
    return json.loads(TABLE.read_text("utf-8"))


def console(name):
    """The ConsoleRecord of that name. Raises JetlibError that lists them."""
    if not isinstance(name, str) or name not in CONSOLES:
        raise JetlibError(f"there is no console {cut(name)}; write one of {', '.join(CONSOLES)}")
    return CONSOLES[name]


def _on(page, room, name, shows=None):
    return ConsoleRecord(name, page, f"jetlib.screen.{room}", shows or {})


_PUMPED = {"gauge": "pressure", "pump flow": "flow"}
_FLOWS = {"gauge": "pressure", "nozzle flow": "flow"}
_BYPASS = {**_FLOWS, "return flow": "flow"}
_LINE = {"gauge": "pressure", "hose loss": "pressure", "nozzle pressure": "pressure", "nozzle flow": "flow"}
_GAUGES = dict.fromkeys(("gauge at idle", "gauge at half", "gauge at full"), "pressure")

#: Every console by name, in the order of the course.
CONSOLES = {
    each.name: each
    for each in (
        _on("00_start_here", "consoles.bypass_console", "rig_console"),
        _on("01_pump_and_gauge", "consoles.pump_console", "pump_console", _PUMPED),
        _on("01_pump_and_gauge", "consoles.pump_console", "amounts_console"),
        _on("02_orifice_flow", "consoles.jets_console", "jets_console", {"gauge": "pressure"}),
        _on("02_orifice_flow", "consoles.jets_console", "same_area_console"),
        _on("03_hose_friction", "consoles.hose_console", "hose_console", {"loss": "pressure"}),
        _on("04_whole_circuit", "consoles.circuit_console", "circuit_console", _LINE),
        _on("05_bypass", "consoles.bypass_console", "bypass_console", _BYPASS),
        _on("05_bypass", "consoles.bypass_console", "valve_console"),
        _on("06_sizing_jets", "consoles.sizing_console", "drills_console", _BYPASS),
        _on("06_sizing_jets", "consoles.sizing_console", "sets_console"),
        _on("07_choosing_hose", "consoles.hose_choice_console", "last_hose_console"),
        _on("07_choosing_hose", "consoles.surge_console", "surge_console"),
        _on("07_choosing_hose", "consoles.hose_choice_console", "step_down_console"),
        _on("08_reading_the_gauge", "consoles.diagnosis_console", "diagnosis_console"),
        _on("08_reading_the_gauge", "consoles.fault_console", "fault_console", _GAUGES),
        _on("09_pull_and_cut", "consoles.pull_console", "pull_console", {"pull of the rear jets": "force",
                                                                         "pull": "force"}),
        _on("09_pull_and_cut", "consoles.reach_console", "reach_console"),
        _on("09_pull_and_cut", "consoles.pull_console", "cut_console"),
        _on("10_power_water_heat", "consoles.supply_console", "tank_console"),
        _on("10_power_water_heat", "consoles.supply_console", "power_console"),
        _on("10_power_water_heat", "consoles.flush_console", "flush_console"),
        _on("11_job_plan", "consoles.plan_console", "plan_console"),
        _on("11_job_plan", "consoles.plan_console", "doubt_console"),
        _on("12_callouts", "callouts.console", "callout_console"),
        _on("rules", "rules.console", "rules_console"),
        _on("rules", "rules.console", "own_rule_console"),
        _on("evidence", "consoles.band_console", "band_console"),
        _on("bench", "bench.bench", "open_bench"),
        _on("classroom", "classroom.session_plans", "session_plans"),
        _on("classroom", "classroom.vote", "room_vote"),
        _on("classroom", "classroom.live_rig", "live_rig", _BYPASS),
        _on("classroom", "classroom.hidden_fault.console", "hidden_fault"),
        _on("classroom", "classroom.callout_class", "callout_class"),
        _on("classroom", "classroom.class_progress", "class_progress"),
    )
}  # fmt: skip
