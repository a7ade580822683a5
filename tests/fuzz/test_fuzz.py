"""Whatever is typed or handed over: no exception but JetlibError, no hang, a sound result.

The same targets are driven by coverage in `atheris_fuzz.py`, by hand and for as long as one likes.
"""

import fuzz_targets as targets
import pytest
import strange
from hypothesis import HealthCheck, example, given, settings

some = settings(
    max_examples=60,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)


@settings(some, max_examples=150)
@given(strange.typed)
def test_units(text):
    targets.unit_text(text)


@settings(some, max_examples=40)
@given(strange.typed)
def test_answers(text):
    targets.answer(text)


@settings(some, max_examples=150)
@given(strange.rules)
def test_rules(text):
    targets.rule_text(text)


@settings(some, max_examples=150)
@given(strange.toml_files())
def test_rig_files(data):
    targets.rig_file(data)


@settings(some, max_examples=100)
@given(strange.toml_files(strange.PLAN_TEXTS))
def test_plan_files(data):
    targets.plan_file(data)


@settings(some, max_examples=100)
@given(strange.vote_files())
@example(strange.VOTES.replace(b"Twice the flow,1,", b"Twice the flow,-0,"))  # a number, yet none of ours
def test_vote_files(data):
    targets.vote_file(data)


@some
@given(strange.json_files())
def test_progress_files(data):
    targets.progress_file(data)


@settings(some, max_examples=150)
@given(strange.json_files())
def test_collected_files_and_bench_files(data):
    targets.exported_progress(data)
    targets.bench_file(data)
    targets.drill_file(data)


@pytest.mark.parametrize("target", targets.TEXT_TARGETS, ids=lambda target: target.__name__)
def test_text_that_acts_or_is_long(target):
    for text in (*strange.ACTS, *strange.LONG):
        target(text)


@pytest.mark.parametrize("target", targets.BYTE_TARGETS, ids=lambda target: target.__name__)
def test_files_that_act_or_are_long(target):
    for text in (*strange.ACTS, *strange.LONG):
        target(text.encode("utf-8", "surrogatepass"))


@pytest.mark.parametrize("text", ["1e999999999 psi", "1" * 400 + " psi", "1e-999999 m", "0." + "0" * 400 + "1 bar"])
def test_numbers_beyond_all(text):
    targets.unit_text(text)
    targets.answer(text)


def test_the_targets_notice_a_broken_promise(monkeypatch):
    def broken(*_, **__):
        raise KeyError("not an error of ours")

    with monkeypatch.context() as patched, pytest.raises(KeyError):
        patched.setattr(targets, "si", broken)
        targets.unit_text("8 gpm")
    with monkeypatch.context() as patched, pytest.raises(AssertionError, match="took"):
        patched.setattr(targets, "LONGEST", 1e-9)
        targets.unit_text("8 gpm")
