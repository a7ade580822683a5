"""The catalogue of checks: whoever offers checks offers the same ones, with the same minutes and cautions."""

import pytest

import jetlib
from jetlib.course.classroom.hidden_fault.deal import hunt_checks
from jetlib.paper.cards.gauge import _checks
from jetlib.rig.diagnosis.checks import CHECKS, FIELDS, check_of, checks_of, first_to_tell
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.diagnosis.faults import THROTTLES, faults_of, signature
from jetlib.rig.diagnosis.next_check import further_checks
from jetlib.rig.diagnosis.readings import GaugeReading, Reading
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.screen.bench.bench import _PAGES
from jetlib.screen.bench.entries.entry import READINGS, meaning_of
from jetlib.screen.classroom.hidden_fault.setup import CostSheet
from jetlib.screen.consoles.diagnosis_console import diagnosis_console
from jetlib.screen.controls.console import Line
from jetlib.units import SYSTEMS
from jetlib.units.entry import understood

TRAILER = demo_rig("yard_trailer")


def test_every_kind_of_reading_is_of_some_check():
    public = [getattr(jetlib, name) for name in jetlib.__all__]
    kinds = {each for each in public if isinstance(each, type) and issubclass(each, Reading)}
    assert {type(field.asked) for field in FIELDS.values()} == kinds and len(kinds) == 8
    for check in CHECKS.values():
        assert all(check_of(field.asked) is check for field in check.fields)
    both = GaugeReading("90 bar", second_gauge=True, nozzle_off=True)
    assert check_of(both) is CHECKS["open hose"]


def test_bench_and_lesson_have_every_field_of_the_catalogue():
    assert list(READINGS) == list(FIELDS)
    for tab in ("readings", "wrong"):
        shown = _PAGES[tab].entries
        assert set(FIELDS) <= set(shown), tab
    console = diagnosis_console()
    assert list(FIELDS) == [name for name, each in console.controls.items() if isinstance(each, Line)]
    for key, field in FIELDS.items():
        assert READINGS[key].label == field.label == console._fields[key].entry.description


@pytest.mark.parametrize("system", SYSTEMS)
def test_what_stands_as_an_example_makes_the_same_reading_everywhere(system):
    texts = {key: field.seen[0] if field.seen else field.example[system != "US"] for key, field in FIELDS.items()}
    console = diagnosis_console(system=system, **texts)
    for key, field in FIELDS.items():
        typed = texts[key]
        said = typed if field.seen else understood(typed, field.kind, system, field.reading)[0]
        assert meaning_of(key, said) == console.values[key] == field.reading(typed)
        assert check_of(console.values[key]) is check_of(field.asked)


@pytest.mark.parametrize("name", demo_rigs())
def test_next_check_hidden_fault_and_card_have_the_same_checks_minutes_and_cautions(name):
    rig = demo_rig(name)
    mine = {check.key: check for check in checks_of(rig)}
    assert "suction" in mine
    assert {check_of(reading).key for reading in further_checks(rig)} == set(mine)
    hunted = hunt_checks(rig)
    assert {**hunted, "gauge": CHECKS["gauge"], "return": CHECKS["return"]} == mine
    costs = CostSheet(lambda: None)
    for key, check in hunted.items():
        assert (costs.labels[key], costs.costs[key]) == (check.label, check.minutes)
    offered = diagnose(rig, []).checks
    assert {each.check.key for each in offered} == set(mine)
    for check in mine.values():
        (told,) = [line for line in _checks(rig) if check.label in line]
        assert check.caution.replace(SEE_THE_MANUAL, "").strip() in told
        assert not check.minutes or f"{check.label} ({check.minutes:g} min)" in told


def test_a_rig_is_offered_only_what_it_has():
    plain = TRAILER.replace(hoses=(), valve=None, engine=None)
    assert set(CHECKS) - {check.key for check in checks_of(plain)} == {
        "return", "engine", "return bucket", "hose", "opening set", "swap hose"
    }  # fmt: skip


def test_what_needs_a_part_known_to_be_good_comes_after_what_needs_none():
    for fault in ("larger set", "valve leaking"):
        gauge = signature(TRAILER, fault).gauge.tolist()
        found = diagnose(TRAILER, [GaugeReading(each, at) for each, at in zip(gauge, THROTTLES, strict=True)])
        spare = [each.check.needs_spare for each in found.checks if each.bits >= 0.05]
        assert spare == sorted(spare)
        assert True in spare


def test_what_was_not_offered_is_refused_with_what_is():
    with pytest.raises(jetlib.JetlibError, match=r"purrs.* is not known; write one of: labors; runs free"):
        FIELDS["engine_sound"].reading("purrs")


def test_a_check_says_which_causes_it_tells_apart():
    """Worn jets pass all the water at less pressure, a weak pump does not; a leaking seat sends it to the tank."""

    def alike(key, name):
        return {each.name for each in faults_of(TRAILER) if not CHECKS[key].tells_apart(TRAILER, name, each.name)}

    assert alike("return", "valve leaking") == {"valve leaking"}
    assert alike("second gauge", "healthy") == {"healthy", "valve high", "gauge low", "gauge high"}
    lower = alike("nozzle bucket", "pump weak")
    assert {"valve leaking", "hose narrow"} <= lower and not {"jets worn", "gauge low"} & lower
    for key, fault in (("suction", "suction starved"), ("hose", "hose narrow"), ("engine", "engine weak")):
        assert alike(key, fault) == {fault}
    every = set(CHECKS)
    assert first_to_tell(TRAILER, "pump weak", "valve leaking", every) == "return"
    assert first_to_tell(TRAILER, "jets worn", "larger set", every) == "jets"
    assert first_to_tell(TRAILER, "jets worn", "larger set", {"gauge", "nozzle bucket"}) is None


def test_where_nearly_every_cause_would_show_another_number_the_next_check_says_what_they_share():
    checks = diagnose(TRAILER, [GaugeReading("1900 psi")]).checks
    shared = next(each for each in checks if each.outcomes.startswith("Expect as usual"))
    as_usual, lower = shared.outcomes.removeprefix("Expect ").split("; ")
    assert as_usual.startswith("as usual if ") and "the engine is short of power" in as_usual
    assert lower == "lower if it is any of the others."


@pytest.mark.parametrize(("typed", "low", "high"), [
    ("2100 psi to 2300 psi", 2100, 2300), ("2300 psi to 2100 psi", 2100, 2300), ("2200 psi to 2200 psi", 2200, 2200),
])  # fmt: skip
def test_a_swinging_needle_is_its_middle_and_as_unsure_as_its_swing(typed, low, high):
    """A rectangular distribution: JCGM 100:2008, 4.3.7."""
    reading, plain = FIELDS["gauge_full"].reading(typed), FIELDS["gauge_full"].reading(f"{(low + high) / 2} psi")
    assert reading.value == pytest.approx(plain.value)
    assert reading.error**2 - plain.error**2 == pytest.approx((6894.757 * (high - low) / 2) ** 2 / 3, rel=1e-6, abs=1)
