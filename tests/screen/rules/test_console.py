"""The consoles of the rules: true words, pictures that say them without colour, entries that cannot be used."""

import xml.etree.ElementTree as ElementTree

import pytest

from jetlib.errors import JetlibError
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs, save_rig
from jetlib.rig.point.operating_point import operating_point
from jetlib.rig.rules.moves import CHANGES
from jetlib.rig.rules.quantities import QUANTITIES
from jetlib.rig.rules.rules import BANDS, judge, read_rule, rules
from jetlib.screen.rules.console import names_table, own_rule_console, rules_console, rules_table, tally_table
from jetlib.units import SYSTEMS, text

TRAILER = demo_rig("yard_trailer")


def words_in(picture):
    tree = ElementTree.fromstring(f"<svg>{picture.content}</svg>")
    return " ".join(node.text for node in tree.iter("text"))


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_rule_can_be_drawn_on_every_rig(system):
    console = rules_console(system=system)
    for name, rule in rules().items():
        for rig in demo_rigs():
            console.set(rule=name, rig=rig)
            assert rule.said in console.words
            svg = console.picture.svg()
            assert ElementTree.fromstring(svg).get("aria-label") == console.words
            assert "nan" not in svg
            assert f"{demo_rig(rig).name}: {judge(rule.equation, demo_rig(rig)).band}" in words_in(console.picture)


def test_rules_are_found_by_group_and_by_words():
    console = rules_console("half-flow")

    def listed():
        return [key for _, key in console._fields["rule"].box.options]

    console.set(group="power")
    assert listed() == [name for name, rule in rules().items() if rule.group == "power"]
    assert console.values["rule"] == listed()[0] and rules()[listed()[0]].said in console.words
    console.set(find="Hose LOSS")  # in whatever group they are
    assert listed() and all("hose" in str(vars(rules()[name])).lower() for name in listed())
    assert "double-length" in listed() and "horsepower" not in listed()
    console.set(find="no such words")
    assert "no rule has the words" in console._fields["find"].error.value and "double-length" in listed()
    console.set(rule="horsepower")  # from code: all are listed again
    assert console.values["rule"] == "horsepower" and len(listed()) == len(rules())


@pytest.mark.parametrize(("typed", "mark", "side"), [
    ("gauge < 2500 psi", "broken by up to 25 %", "unsafe"), ("gauge < 3000 psi", "kept", "safe"),
    ("hose loss > 50 % of gauge", "broken by more", "unsafe"),
])  # fmt: skip
def test_a_limit_is_kept_or_broken(typed, mark, side):
    console = own_rule_console(typed)
    verdict = judge(read_rule(typed), TRAILER)
    assert (verdict.band, verdict.side) == (mark, side)
    assert f"Yard trailer: {mark}" in words_in(console.picture)
    assert (": it is kept" in console.words) == (mark == "kept")


def test_the_answer_is_above_all_else_and_says_on_which_side_it_errs():
    console = own_rule_console("gauge = 2000 psi", safe="high")
    gauge = operating_point(TRAILER).gauge
    assert [each.value for each in console.picture.answers] == [pytest.approx(2000 * 6894.757), pytest.approx(gauge)]
    assert "UNSAFE side" in words_in(console.picture)
    console.set(safe="low")
    assert "on the safe side" in words_in(console.picture)
    console.set(safe="")
    assert "side" not in words_in(console.picture)


@pytest.mark.parametrize("system", SYSTEMS)
def test_words_hold_what_the_rig_does(system):
    console = own_rule_console("gauge at idle = 0.5 * gauge at full", system=system)
    idle, full = operating_point(TRAILER, 0.0).gauge, operating_point(TRAILER).gauge
    assert f"The rule says {text(full / 2, 'pressure', system)}" in console.words
    assert f"the physics gives {text(idle, 'pressure', system)}" in console.words
    assert f"gauge at idle = {idle / full:.3g} * gauge at full" in console.words


def test_the_map_speaks_by_words_and_hatching_too():
    console = rules_console("ten-per-cent-bore")
    shown = words_in(console.picture)
    for words in ("within 10 %", "within 25 %", "says too much", "this rig", "off: 0 % of the map"):
        assert words in shown
    assert '<path class="jl-line-orange"' in console.picture.content


def test_a_bad_rule_is_marked_and_the_last_picture_stands():
    console = own_rule_console()
    before = console.words
    for typed, said in (
        ("gauge = hose length", "pressure"),
        ("x" * 10_000, "300"),
        ("<b>", "where a quantity should"),
        ("gauge ; 2", "no meaning"),
    ):
        console.set(rule=typed)
        assert console.words == before
        assert "Not used:" in console._fields["rule"].error.value
        assert said in console._fields["rule"].error.value
        assert "<b>&" not in console._fields["rule"].error.value
    console.set(rule="hose speed = 20 ft/s")
    assert console._fields["rule"].error.value == ""
    assert "20 ft/s" in console.words


def test_a_map_of_one_quantity_against_itself_is_refused_and_recovers():
    console = own_rule_console()
    before = console.words
    console.set(across="hose bore", up="hose bore")
    assert console.words == before
    assert "choose two" in console._words.value
    console.set(up="hose length")
    assert "the bore of the hose and the length of all the hose change" in console.words


def test_an_own_rig_file_is_taken_and_let_go(tmp_path):
    path = tmp_path / "mine.toml"
    save_rig(TRAILER.replace(name="Mine, 2 ft", lift="2 ft"), path)
    console = rules_console()
    console.set(file=str(path))
    assert "Mine, 2 ft: The rule says" in console.words
    console.set(file=str(tmp_path / "none.toml"))
    assert "cannot be read" in console._fields["file"].error.value
    assert "Mine, 2 ft" in console.words
    console.set(file="")
    assert "Yard trailer" in console.words
    assert rules_console(file=str(path)).words.count("Mine") == 1


def test_the_place_counts():
    console = rules_console("altitude")
    before = console.words
    console.set(altitude="6000 ft")
    assert console.words != before
    assert "6000 ft above the sea" in console.words


def test_an_unknown_rule_is_refused_with_those_there_are():
    with pytest.raises(JetlibError, match="half-flow"):
        rules_console("nonsense")


def test_the_table_holds_every_rule_and_a_verdict_for_every_rig():
    table = rules_table().shown
    assert [row[0] for row in table.rows] == [rule.said for rule in rules().values()]
    for row, rule in zip(table.rows, rules().values(), strict=True):
        for cell, name in zip(row[1:5], demo_rigs(), strict=True):
            verdict = judge(rule.equation, demo_rig(name))
            assert (f", {verdict.side} side" in cell) == bool(verdict.side)
            assert cell.startswith("exact" if verdict.exact else verdict.band)
    assert rules()["half-flow"].said in repr(table)
    assert "<table>" in table._repr_html_()


def test_the_tally_counts_every_rule_once():
    for row in tally_table().rows:
        assert sum(map(int, row[1:])) == len(rules())
    assert tally_table().heads[2:] == BANDS


def test_the_names_are_all_told():
    shown = repr(names_table())
    for name in (*QUANTITIES, *CHANGES):
        assert name in shown
