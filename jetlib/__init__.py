"""The hydraulics of drain-line jetting: parts of a rig, what the gauge reads, what leaves the jets.

Names load when they are first used, so that `import jetlib` costs little more than numpy.
"""

from importlib import import_module

_HOME = {
    "JetlibError": "jetlib.errors",
    "Pump": "jetlib.rig.parts",
    "Engine": "jetlib.rig.parts",
    "Unloader": "jetlib.rig.parts",
    "BurstDisc": "jetlib.rig.parts",
    "Hose": "jetlib.rig.parts",
    "Fitting": "jetlib.rig.parts",
    "Jet": "jetlib.rig.parts",
    "Nozzle": "jetlib.rig.parts",
    "Rig": "jetlib.rig.parts",
    "OperatingPoint": "jetlib.rig.operating_point",
    "operating_point": "jetlib.rig.operating_point",
    "throttle_sweep": "jetlib.rig.operating_point",
    "matched_jets": "jetlib.rig.matching",
    "MatchedJets": "jetlib.rig.matching",
    "size_jets": "jetlib.rig.sizing",
    "change_by_one_drill": "jetlib.rig.one_drill",
    "hose_choices": "jetlib.rig.hose_choice",
    "step_downs": "jetlib.rig.step_down",
    "PipeRun": "jetlib.rig.pipe_run",
    "Bend": "jetlib.rig.drain",
    "Drain": "jetlib.rig.drain",
    "drain_of_size": "jetlib.rig.drain",
    "Tank": "jetlib.rig.tank",
    "Job": "jetlib.rig.job",
    "reach": "jetlib.rig.reach",
    "jet_work": "jetlib.rig.jet_work",
    "thrust_split": "jetlib.rig.jet_work",
    "supply": "jetlib.rig.supply",
    "flushing": "jetlib.rig.flushing",
    "plan_job": "jetlib.rig.plan",
    "load_rig": "jetlib.rig.files",
    "save_rig": "jetlib.rig.files",
    "GaugeReading": "jetlib.rig.readings",
    "BucketTest": "jetlib.rig.readings",
    "SpeedReading": "jetlib.rig.readings",
    "ReturnSeen": "jetlib.rig.readings",
    "EngineSound": "jetlib.rig.readings",
    "JetsSeen": "jetlib.rig.readings",
    "HoseSeen": "jetlib.rig.readings",
    "Spread": "jetlib.rig.changes",
    "signature": "jetlib.rig.faults",
    "diagnose": "jetlib.rig.diagnosis",
    "Diagnosis": "jetlib.rig.diagnosis",
    "calibrate": "jetlib.rig.calibration",
    "Calibration": "jetlib.rig.calibration",
}

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
