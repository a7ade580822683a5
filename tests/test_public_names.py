"""What a stranger reads of a public name: its annotations, its units, and an example that is true."""

import doctest
import inspect
import re
import typing
from functools import cached_property

import numpy as np
import pytest

import jetlib
import jetlib.screen
from jetlib.rig.rules import moves, quantities
from jetlib.units.given import Given, Truths, Values, Words
from jetlib.units.kinds import KINDS

#: A unit, or that there is none.
UNIT = re.compile(
    r"(?<!['\w])(Pa|m|mm|m2|m3|m3/s|kg|kg/m|kg/m3|N|N/m|W|K|s|rad|rad/s|m/s|SI|psi|bar|gpm|ft|hp)(?![\w'])|%|"
    r"units?|\b(?i:shares?|ratio|probability|chance|throttles?|count|coefficient|dimensionless|widths)\b"
)
NUMBERS = {float, np.ndarray, *typing.get_args(Given), *typing.get_args(Values)} - {str, list, tuple}


def function_of(member):
    """The function behind a method or a property; None for what is none."""
    if isinstance(member, property):
        return member.fget
    member = member.func if isinstance(member, cached_property) else getattr(member, "__func__", member)
    return member if inspect.isfunction(member) else None


def signatures(room):
    """(name, function, class or None) of every public function of `room`, and of every public method of its classes."""
    for name in room.__all__:
        found = getattr(room, name)
        if inspect.isfunction(found):
            yield name, found, None
        elif inspect.isclass(found):
            for owner in (each for each in found.__mro__ if each.__module__.startswith("jetlib.")):
                for own, member in vars(owner).items():
                    function = function_of(member)
                    if function and (not own.startswith("_") or own == "__init__"):
                        yield f"{name}.{own}", function, owner


EVERY = [pytest.param(*each, id=each[0]) for room in (jetlib, jetlib.screen) for each in signatures(room)]


def holds_numbers(hint):
    return hint not in (Truths, Words) and bool({hint, *typing.get_args(hint)} & NUMBERS)


def test_there_are_as_many_as_there_were():
    assert len(EVERY) > 200


@pytest.mark.parametrize(("name", "function", "owner"), EVERY)
def test_a_signature_is_annotated_whole(name, function, owner):
    hints = typing.get_type_hints(function)
    items = [item for item in inspect.signature(function).parameters if item not in ("self", "cls")]
    bare = [item for item in items if item not in hints]
    assert not bare, f"{name} says nothing of {', '.join(bare)}"
    assert "return" in hints or name.endswith("__init__"), f"{name} does not say what it returns"


@pytest.mark.parametrize(("name", "function", "owner"), EVERY)
def test_a_docstring_says_units(name, function, owner):
    made = name.endswith("__init__")
    told = inspect.getdoc(owner if made else function) or ""
    assert told, f"{name} has no docstring"
    if any(holds_numbers(hint) for hint in typing.get_type_hints(function).values()):
        assert UNIT.search(told), f"{name} takes or gives a number; say its unit, or that it has none"


def test_the_rule_tells_a_unit_from_none():
    for told in ("Pressure, Pa.", "a share of it", "5 % of it", "flow (m3/s) of it", "in SI"):
        assert UNIT.search(told)
    for told in ("The hose's pressure", "as in the rig", "A copy with some fields changed"):
        assert not UNIT.search(told)
    assert holds_numbers(Given) and holds_numbers(Values | None) and not holds_numbers(str | None)


@pytest.mark.parametrize("module", [quantities, moves], ids=lambda module: module.__name__)
def test_what_stands_in_a_table_of_rules_has_its_words(module):
    own = [each for _, each in inspect.getmembers(module, inspect.isfunction) if each.__module__ == module.__name__]
    own = [each for each in own if each.__name__ != "<lambda>"]
    assert own and not [each.__name__ for each in own if not each.__doc__]


@pytest.mark.parametrize("table", [quantities.QUANTITIES, moves.LEVERS], ids=["quantities", "map axes"])
def test_a_row_of_a_table_of_rules_has_a_unit(table):
    for name, row in table.items():
        assert KINDS[row.kind].si_label, name
        reader = row.value if hasattr(row, "value") else row.read
        cells = [cell.cell_contents for cell in reader.__closure__ or ()]
        for each in (each for each in (reader, *cells) if inspect.isfunction(each) and each.__name__ != "<lambda>"):
            assert UNIT.search(each.__doc__), f"{name}: say the unit of {each.__name__}"


#: A console is shown on its page; what else `jetlib.screen` has to calculate with has an example too.
SHOWN = [name for name in jetlib.screen.__all__ if ">>>" in (inspect.getdoc(getattr(jetlib.screen, name)) or "")]


@pytest.mark.parametrize("name", [*(name for name in jetlib.__all__ if callable(getattr(jetlib, name))), *SHOWN])
def test_an_example_is_true(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("jetlib.paper.page.document.find_browser", lambda: None)
    names = {each: getattr(jetlib, each) for each in jetlib.__all__}
    names |= {each: getattr(jetlib.screen, each) for each in SHOWN}
    found = names[name]
    told = doctest.DocTestParser().get_doctest(inspect.getdoc(found), names, name, None, None)
    assert told.examples, f"{name} has no example"
    said = []
    runner = doctest.DocTestRunner(optionflags=doctest.ELLIPSIS, verbose=False)
    with np.printoptions(precision=8, suppress=False):  # as they are until a library changes them
        runner.run(told, out=said.append)
    assert not said, "".join(said)
