"""Whatever is handed to a public function in the place of what it wants: one JetlibError, and nothing else."""

import numpy as np
import pytest

import jetlib as j

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
