"""Whatever is handed to a public function in the place of what it wants: one JetlibError, and nothing else."""

import inspect

import numpy as np
import pytest

import jetlib as j
from jetlib.rig.change.whatif import changed_line, outlet_rig
from jetlib.rig.parts.site import Site
from jetlib.rig.rules.moves import family, own_value
from jetlib.rig.rules.rules import judge, read_rule, read_rules
from jetlib.tables import DATA
from jetlib.units.entry import drills

RIG = j.demo_rig("yard_trailer")
DRAIN = j.Drain("4 in", "100 ft")
GAUGE = [j.GaugeReading("400 psi", "idle")]
JUNK = [None, "rig", [], {}, object(), np.array(["a"]), b"x", j.Pump("8 gpm")]
WANTED = {
    "operating_point": j.operating_point,
    "throttle_sweep": lambda it: j.throttle_sweep(it, [0, 1]),
    "size_jets": j.size_jets,
    "diagnose": lambda it: j.diagnose(it, GAUGE),
    "calibrate": lambda it: j.calibrate(it, GAUGE),
    "matched_jets": j.matched_jets,
    "uncertainty_band": lambda it: j.uncertainty_band(it, [0.5]),
    "hose_choices": lambda it: j.hose_choices(it, 1),
    "step_downs": lambda it: j.step_downs(it, total_length="250 ft", small_length="30 ft"),
    "change_by_one_drill": j.change_by_one_drill,
    "highest_pressure": j.highest_pressure,
    "signature": lambda it: j.signature(it, "jets worn"),
    "save_rig": lambda it: j.save_rig(it, "never_written.toml"),
    "jet_work": j.jet_work,
    "thrust_split": j.thrust_split,
    "reach": lambda it: j.reach(it, DRAIN),
    "supply": lambda it: j.supply(it, j.Tank("100 gal")),
    "flushing": lambda it: j.flushing(it, DRAIN),
    "plan_job": lambda it: j.plan_job(it, j.Job(DRAIN, j.Tank("100 gal"))),
    "the job of a plan": lambda it: j.plan_job(RIG, it),
    "demo_rig": j.demo_rig,
    "hose_mass": j.hose_mass,
    "from_si": lambda it: j.from_si(1.0, it, "US"),
    "the system of from_si": lambda it: j.from_si(1.0, "flow", it),
    "the kind of si": lambda it: j.si("8 gpm", it),
}  # fmt: skip


@pytest.mark.parametrize("name", WANTED)
def test_what_is_not_wanted_is_refused(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for junk in JUNK:
        with pytest.raises(j.JetlibError):
            WANTED[name](junk)


@pytest.mark.parametrize("unknowns", [*JUNK[1:], 3])
def test_a_band_wants_unknowns_or_none(unknowns):
    with pytest.raises(j.JetlibError, match=r"write unknowns=Unknowns"):
        j.uncertainty_band(RIG, [0.5], unknowns=unknowns)


@pytest.mark.parametrize("value", ["rig", {}, object(), b"x", RIG])
def test_only_numbers_are_shown(value):
    for shown in (
        lambda: j.both(value, "flow"),
        lambda: j.from_si(value, "flow", "US"),
        lambda: j.ReadingsTable(value),
    ):
        with pytest.raises(j.JetlibError) as caught:
            shown()
        assert len(str(caught.value)) < 200


def test_many_rigs_are_refused_where_one_is_wanted():
    many = RIG.replace(lift=np.array([0.0, 1.0]))
    for made in (
        lambda: j.diagnose(many, GAUGE),
        lambda: j.calibrate(many, GAUGE),
        lambda: j.size_jets(many),
        lambda: j.uncertainty_band(many, [0.5]),
        lambda: j.plan_job(many, j.Job(DRAIN, j.Tank("100 gal"))),
        lambda: j.Knowledge(correlation=np.array([0.1, 0.2])),
    ):
        with pytest.raises(j.JetlibError):
            made()


POINT, JOB = j.operating_point(RIG), j.Job(DRAIN, j.Tank("100 gal"))
#: What each public function or class cannot do without.
NEEDED = {
    "Bend": {"at": "10 ft"},
    "BucketTest": {"volume": "5 gal", "time": "30 s"},
    "BurstDisc": {"rating": "3000 psi"},
    "Drain": {"bore": "4 in", "length": "100 ft"},
    "Engine": {"power": "20 hp"},
    "EngineSound": {"labours": True},
    "Fitting": {"bore": "1/2 in", "loss_coefficient": 1.0},
    "GaugeReading": {"pressure": "2000 psi"},
    "Hose": {"bore": "1/2 in", "length": "100 ft"},
    "HoseSeen": {"narrow": True},
    "Jet": {"bore": "#60"},
    "JetsSeen": {"found": "worn"},
    "Job": {"drain": DRAIN, "tank": j.Tank("100 gal")},
    "Knowledge": {},
    "Nozzle": {"jets": [j.Jet("#60")]},
    "PipeRun": {"bore": "4 in"},
    "Pump": {"rated_flow": "9 gpm"},
    "ReadingsTable": {"rows": ()},
    "ReturnSeen": {"seen": True},
    "Rig": {"pump": j.Pump("9 gpm")},
    "SpeedReading": {"speed": "1400 rpm"},
    "SuctionSeen": {"starved": True},
    "Tank": {"volume": "100 gal"},
    "Unknowns": {},
    "Unloader": {"setting": "2500 psi"},
    "both": {"value": 1e7, "kind": "pressure"},
    "calibrate": {"rig": RIG, "readings": GAUGE},
    "change_by_one_drill": {"rig": RIG},
    "demo_rig": {"name": "yard_trailer"},
    "diagnose": {"rig": RIG, "readings": GAUGE},
    "drain_of_size": {"label": "4 in schedule 40", "length": "100 ft"},
    "flushing": {"flow": "9 gpm", "drain": DRAIN},
    "from_si": {"value": 1e7, "kind": "pressure", "system": "US"},
    "highest_pressure": {"rig": RIG},
    "hose_choices": {"rig": RIG, "section": 1},
    "hose_loss": {"flow": "9 gpm", "bore": "1/2 in", "length": "100 ft"},
    "hose_mass": {"hose": RIG.hoses[0]},
    "jet_work": {"point": POINT},
    "load_rig": {"path": "none.toml"},
    "matched_jets": {"rig": RIG},
    "operating_point": {"rig": RIG},
    "plan_job": {"rig": RIG, "job": JOB},
    "quantity": {"value": 1e7, "kind": "pressure"},
    "reach": {"point": POINT, "drain": DRAIN},
    "save_rig": {"rig": RIG, "path": "written.toml"},
    "shear_that_moves": {"grain": "2 mm"},
    "si": {"value": "9 gpm", "kind": "flow"},
    "signature": {"rig": RIG, "fault": "jets worn"},
    "size_jets": {"rig": RIG, "rear_holes": [4], "front_holes": [0], "drills": ["#60", "#59"]},
    "step_downs": {"rig": RIG, "total_length": "250 ft", "small_length": "30 ft", "places": 3},
    "supply": {"point": POINT, "tank": j.Tank("100 gal")},
    "throttle_sweep": {"rig": RIG, "throttles": [0.0, 1.0]},
    "thrust_split": {"point": POINT},
    "uncertainty_band": {"rig": RIG, "throttles": [0.5], "samples": 50},
    "water_mass": {"bore": 0.01, "density": 1000.0},
    "yard_plan": {},
}
#: What those make, what writes to a printer's folder, and the error itself.
MADE = {"Calibration", "Diagnosis", "MatchedJets", "OperatingPoint", "JetlibError", "print_card", "print_set",
        "print_records", "print_check_record", "demo_rigs", "DEBRIS"}  # fmt: skip
ODD = [None, True, -1, 0.5, 1e300, 10**400, float("nan"), "", "abc", "12 psi", "\0", b"x", [], [1, 2], ["a"], {},
       set(), object(), object, np.array([]), np.array([1.0, 2.0]), np.zeros((2, 3)), np.array("x"), 1j, ...,
       [[1], [2, 3]], range(3), RIG, POINT, j.Pump("9 gpm"), lambda: 1]  # fmt: skip


def test_every_public_name_is_tried():
    assert set(NEEDED) | MADE == set(j.__all__)


@pytest.mark.parametrize("name", NEEDED)
def test_an_odd_argument_is_taken_or_refused_and_no_more(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    made, refused = getattr(j, name), 0
    for argument in inspect.signature(made).parameters.values():
        if argument.kind is argument.VAR_KEYWORD:
            continue
        for odd in ODD:
            try:
                made(**{**NEEDED[name], argument.name: odd})
            except j.JetlibError:
                refused += 1
    assert refused > 5


SMALL = RIG.replace(nozzle=j.Nozzle([j.Jet("#60", count=0)]))
BARE = RIG.replace(valve=None, engine=None)
#: What cannot be, and words of its refusal.
REFUSED = {
    "a jet plugged of none": (lambda: judge(read_rule("gauge with one jet plugged = 1 psi"), SMALL), "no open jet"),
    "fifty-one bends": (lambda: DRAIN.replace(bends=[j.Bend("10 ft")] * 51), "up to 50"),
    "a flow delivered past all slip": (
        lambda: j.Pump(delivered="8 gpm at 9000 psi", rated_pressure="3000 psi", volumetric_efficiency=0.5),
        "so far above rated_pressure",
    ),
    "a setting of no valve": (lambda: judge(read_rule("gauge = setting"), BARE), "no bypass valve"),
    "the power of no engine": (lambda: judge(read_rule("shaft power < engine power"), BARE), "no engine on file"),
    "a map over no setting": (lambda: own_value("setting", BARE, Site()), "no bypass valve with a setting"),
    "a map of no jets": (lambda: family(SMALL, Site(), {}), "no open jets to draw"),
    "a power left open": (lambda: read_rule("gauge^(2 = 3"), "around the power is not shut"),
    "a side that is none": (
        lambda: read_rules((DATA / "rules_of_thumb.toml").read_text("utf-8").replace('safe = "high"', 'safe = "up"')),
        "write high, low, or leave it out",
    ),
    "a bore that no drill has": (lambda: drills(".9999"), "the nearest is"),
    "a change of no rig": (lambda: changed_line(None, length=1.0, bore=0.01), "write a Rig"),
    "a change to no hose": (lambda: changed_line(RIG.replace(hoses=()), length=1.0, bore=0.01), "no hose to change"),
    "two lengths of one hose": (lambda: changed_line(RIG, length=[1.0, 2.0], bore=0.01), "write one value"),
    "no such change of jets": (lambda: changed_line(RIG, length=1.0, bore=0.01, jets=["more"]), "allowed: as loaded"),
    "no such outlet": (lambda: outlet_rig([]), "allowed: open, large, small, shut"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_is_refused_in_its_own_words(name):
    made, words = REFUSED[name]
    with pytest.raises(j.JetlibError, match=words):
        made()
