"""What a page says of what it cannot use: no Python, no unit of the other system, and its advice is accepted."""

import re

import pytest

from jetlib.errors import JetlibError
from jetlib.units import SYSTEMS
from jetlib.units.entry import amount, count, drills
from jetlib.units.kinds import KINDS
from jetlib.units.refusal import page_words

JUNK = ["junk", "", "-", "9999999999", "-7", "1/0", "5 parsecs", "#", "1e400", "2,400,1", "(", "5 gal in",
        "half a mile", "nan", "0x10", "three", "5 kg 7", "1:0"]  # fmt: skip
CODE = re.compile(r"\w=\S|\b[A-Za-z_]+\(|[a-z]_[a-z]|None|Traceback")
OTHER = {
    "US": re.compile(r"\d ?(?:bar|L/min|mm|kPa|kW|°C|kg|L|N|m)\b"),
    "metric": re.compile(r"\d ?(?:psi|gpm|ft|in|gal|lbf?|hp|°F)\b"),
}


def refusal(typed, kind, system, **range_):
    try:
        amount(typed, kind, system, **range_)
    except JetlibError as error:
        return page_words(error, system)
    return None


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("kind", KINDS)
def test_no_refusal_shows_code_or_the_other_units_and_its_advice_is_accepted(kind, system):
    for typed in JUNK:
        words = refusal(typed, kind, system)
        if words is None:
            continue
        told = words.replace(typed, "") if typed else words
        assert not CODE.search(told), words
        assert kind == "slope" or not OTHER[system].search(told), words
        if "; write such as " in words:
            for advice in words.split("; write such as ")[1].split(" or "):
                assert refusal(advice, kind, system) is None, (words, refusal(advice, kind, system))
        if "allowed: " in words:
            ends = re.fullmatch(r"(?:0, or )?(?:up to|(\S+) to) (\S+?)( ?[^\d ]*)", words.split("allowed: ")[1])
            for end in filter(None, ends.groups()[:2]):
                assert refusal(end + ends[3], kind, system) is None, words


@pytest.mark.parametrize("system", SYSTEMS)
def test_out_of_range_says_the_value_and_the_range(system):
    words = refusal("99999 psi", "pressure", system)
    assert words.startswith("99999 psi is too much here; allowed: 0, or ")
    words = refusal("9 m" if system == "metric" else "30 ft", "length", system, low=0.3, high=6.1)
    assert re.search(r"is too much here; allowed: \S+ to \S+ (ft|m)$", words)


@pytest.mark.parametrize(
    ("typed", "kind", "us"),
    [
        ("9 gallons a minute", "flow", "9 gpm"), ("34 litres a minute", "flow", "34 L/min"),
        ("3000 pounds per square inch", "pressure", "3000 psi"), ("2400", "pressure", "2400 psi"),
        ("41", "fraction", "41 %"), ("half", "fraction", "50 %"), ("5 ft 6 in", "length", "66 in"),
        ("-6", "hose_bore", "3/8 in"), ("½", "hose_bore", "1/2 in"), ("½", "fraction", "50 %"),
        ("1½", "pipe_bore", "1.5 in"),
        ("1e3", "pressure", "1000 psi"), (".052\"", "jet_bore", "0.052 in"),
        ("5/64''", "jet_bore", "5/64 in"), ("1,5 mm", "jet_bore", "1.5 mm"),
        ("30 metres", "length", "30 m"), ("15 degC", "temperature", "59 degF"), ("1 min 20 s", "time", "80 s"),
    ],
)  # fmt: skip
def test_the_same_is_read_however_it_is_said(typed, kind, us):
    assert amount(typed, kind, "US") == pytest.approx(amount(us, kind, "US"), rel=1e-9)


def test_a_timed_flow_is_a_flow():
    # 5 gal in 32 s: 5 x 60/32 = 9.375 gal a minute
    assert amount("5 gal in 32 s", "flow", "US") == pytest.approx(amount("9.375 gpm", "flow"), rel=1e-8)


def test_a_whole_number_is_asked_for_in_words():
    assert count("4 holes", 1, 9) == 4
    with pytest.raises(JetlibError, match="write a whole number from 1 to 9"):
        count("40", 1, 9)


def test_a_comma_that_can_mean_two_numbers_is_asked_back_only_where_both_will_do():
    assert refusal("1,500", "pressure", "metric").endswith("write such as 1500 bar or 1.5 bar")
    assert refusal("1,500", "jet_bore", "metric").endswith("write such as 1.5 mm")
    assert refusal("1,200 mm", "pressure", "metric").startswith("1200 mm: mm is a length, and here a pressure")


def test_what_was_typed_is_said_again_as_it_was():
    assert refusal("150'", "jet_bore", "US").startswith("150' is too much here")
    assert refusal("5' 6\"", "angle", "US").startswith("5' 6\" can't be read")
    assert (
        refusal("20 degC", "angle", "US")
        == "20 °C: °C is a temperature, and here an angle is wanted; write such as 15°"
    )
    assert refusal("6 mm2", "time", "US").startswith("6 mm2: mm2 is a")


def test_a_list_of_drills_may_have_decimal_commas():
    assert drills("1,2 mm 1,4 mm") == drills("1.2 mm, 1.4 mm") == ("1.2 mm", "1.4 mm")
    assert drills("1,3-1,4 mm") == ("1.3 mm", "1.35 mm", "1.4 mm")
    assert drills("54,56,58") == drills("54, 56, 58")
