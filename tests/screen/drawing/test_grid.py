"""A table as SVG holds every word, in its column, and marks the rows it was told to."""

import xml.etree.ElementTree as ElementTree

import pytest

from jetlib.screen.drawing.grid import grid


def cells(content):
    tree = ElementTree.fromstring(f"<svg>{content}</svg>")
    return {node.text: node for node in tree.iter("text")}


def test_every_word_stands_in_its_column_and_row():
    content, width, height = grid(("name", ">flow"), [("one", "1 gpm"), ("two", "2 gpm")], (10, 200), width=300)
    found = cells(content)
    assert set(found) == {"name", "flow", "one", "1 gpm", "two", "2 gpm"}
    assert [found[each].get("x") for each in ("one", "two", "name")] == ["10.0"] * 3
    assert [found[each].get("text-anchor") for each in ("flow", "2 gpm", "one")] == ["end", "end", "start"]
    ys = [float(found[each].get("y")) for each in ("name", "one", "two")]
    assert ys == sorted(ys)
    assert ys[-1] < height
    assert width == 300


def test_chosen_and_refused_rows_differ_by_more_than_colour():
    content, *_ = grid(("a",), [("one",), ("two",), ("three",)], (10,), width=100, chosen=1, refused={2})
    found = cells(content)
    assert found["two"].get("font-weight") == "bold"
    assert found["three"].get("class") == "jl-ink-grey"
    assert found["one"].get("font-weight") == "normal"
    assert content.count("<rect") == 1


def test_words_are_escaped_and_a_row_too_short_is_refused():
    content, *_ = grid(("a",), [("<b> & c",)], (10,), width=100)
    assert "<b> & c" in cells(content)
    with pytest.raises(ValueError, match="longer"):
        grid(("a", "b"), [("only one",)], (10, 50), width=100)
