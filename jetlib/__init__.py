"""The hydraulics of drain-line jetting: parts of a rig, what the gauge reads, what leaves the jets.

Names load when they are first used, so that `import jetlib` costs little more than numpy. Examples in the docstrings
take it that all of them are there: `from jetlib import *`.
"""

from importlib import import_module

#: Where each public name is at home: what a notebook, a test or a reader's own program needs.
_ROOMS = {
    "errors": "JetlibError",
    "rig.parts.drive": "Pump Engine Unloader BurstDisc",
    "rig.parts.line": "Hose Fitting Jet Nozzle",
    "rig.parts.machine": "Rig",
    "rig.parts.site": "Bend Drain Tank drain_of_size",
    "rig.parts.rig_file": "demo_rig demo_rigs load_rig save_rig",
    "rig.point.operating_point": "OperatingPoint operating_point throttle_sweep",
    "rig.point.alone": "hose_loss",
    "rig.uncertainty.unknowns": "Unknowns",
    "rig.uncertainty.band": "uncertainty_band",
    "rig.hoses.surge": "highest_pressure",
    "rig.hoses.choice": "hose_choices",
    "rig.hoses.weight": "PipeRun hose_mass water_mass",
    "rig.hoses.step_down": "step_downs",
    "rig.jets.matching": "matched_jets MatchedJets",
    "rig.jets.sizing": "size_jets",
    "rig.jets.one_drill": "change_by_one_drill",
    "rig.jets.work": "jet_work thrust_split",
    "rig.change.factors": "Knowledge",
    "rig.job.job": "Job",
    "rig.job.reach": "reach",
    "rig.job.supply": "supply",
    "rig.job.flushing": "flushing shear_that_moves DEBRIS",
    "rig.job.plan": "plan_job",
    "rig.diagnosis.readings": "GaugeReading BucketTest SpeedReading ReturnSeen EngineSound",
    "rig.diagnosis.looks": "JetsSeen HoseSeen SuctionSeen",
    "rig.diagnosis.faults": "signature",
    "rig.diagnosis.diagnosis": "diagnose Diagnosis",
    "rig.diagnosis.calibration": "calibrate Calibration",
    "units": "si from_si both quantity",
    "units.readings_table": "ReadingsTable",
    "course.exercises.yard_job": "yard_plan",
    "paper.cards.bench": "print_card",
    "paper.sheets.class_set": "print_set",
    "paper.sheets.records": "print_check_record print_records",
}
_HOME = {name: f"jetlib.{room}" for room, names in _ROOMS.items() for name in names.split()}

__all__ = sorted(_HOME)  # noqa: PLE0605
__version__ = "0.1.0"


def __getattr__(name):
    if name not in _HOME:
        raise AttributeError(f"jetlib has no {name!r}; it has {', '.join(__all__)}")
    value = getattr(import_module(_HOME[name]), name)
    globals()[name] = value
    return value


def __dir__():
    return sorted([*globals(), *__all__])
