"""Choices whose right answer is written down: the engine says the same of every variant."""

import math

import pytest

from jetlib import BurstDisc, Unloader, demo_rig, operating_point
from jetlib.course.banks import registry as bank
from jetlib.course.exercises.yard import hose_loss
from jetlib.physics.pump import unloader_pressure

VALVES = {
    "regulating unloader": Unloader,
    "trapped-pressure unloader": lambda setting: Unloader(setting, trapping=True),
    "burst disc": BurstDisc,
}
AFTER = {(True, True): "both-full", (False, True): "trapped", (False, False): "both-empty", (True, False): "gauge-only"}


@pytest.mark.parametrize("valve", VALVES)
def test_what_the_trailer_shows_with_its_outlet_shut(valve):
    rig = demo_rig("yard_trailer")
    setting = rig.unloader.setting
    at = operating_point(rig.replace(valve=VALVES[valve](setting), outlet_shut=True))
    key = AFTER[tuple(bool(pressure > 0.5 * setting) for pressure in (at.gauge, at.line_pressure))]
    exercise = bank.exercise("05-when-plugged")
    asked = [each for each in map(exercise.variant, range(30)) if each.parameters["valve"] == valve]
    assert asked
    assert {each.answer for each in asked} == {key}


def test_more_throttle_brings_hardly_more_flow_once_the_valve_is_open():
    """The nozzle's flow follows the root of the pressure, which climbs by the usual rise of 8 % at most."""
    for variant in map(bank.exercise("05-more-throttle").variant, range(30)):
        opens = variant.parameters["opens"]
        grown = math.sqrt(float(unloader_pressure(1.0 - opens, setting=1.0, rise=0.08, full_flow=1.0)))
        shares = {"hardly": 1.02, "step": 1.0 / opens, "square": 1.0 / opens**2, "falls": opens}
        assert min(shares, key=lambda key: abs(shares[key] - grown)) == variant.answer


def test_a_hose_loses_nearly_by_the_square_of_the_flow():
    powers = {"linear": 1.0, "nearly-square": 1.8, "cube": 3.0, "fifth": 5.0}
    for variant in map(bank.exercise("03-more-flow").variant, range(30)):
        p = variant.parameters
        grows = hose_loss(p["new_flow"], p["length"], p["bore"]) / hose_loss(p["flow"], p["length"], p["bore"])
        power = math.log(grows) / math.log(p["times"])
        assert min(powers, key=lambda key: abs(powers[key] - power)) == variant.answer
