"""A table as SVG holds every word, in its column, and marks the rows it was told to."""

import xml.etree.ElementTree as ElementTree

import pytest

from jetlib.screen.drawing.grid import grid


def cells(content):
    tree = ElementTree.fromstring(f"<svg>{content}</svg>")
    return {node.text: node for node in tree.iter("text")}


def test_every_word_stands_in_its_column_and_row():
    rows = [("one", "1 gpm"), ("two", "2 gpm")]
    content, width, height, (narrow, *_) = grid(("name", ">flow"), rows, (10, 200), width=300)
    found = cells(content)
    assert set(found) == {"name", "flow", "one", "1 gpm", "two", "2 gpm"}
    assert [found[each].get("x") for each in ("one", "two", "name")] == ["10.0"] * 3
    assert [found[each].get("text-anchor") for each in ("flow", "2 gpm", "one")] == ["end", "end", "start"]
    ys = [float(found[each].get("y")) for each in ("name", "one", "two")]
    assert ys == sorted(ys)
    assert ys[-1] < height
    assert width == 300
    assert list(cells(narrow)) == ["one", "flow 1 gpm", "two", "flow 2 gpm"], "a phone shows a row as lines"


def test_on_a_phone_every_figure_keeps_its_heading():
    """A table of throttles and rigs: blank headings belong to the heading before them, blank cells are left out."""
    heads = ("", "", ">gauge", ">", ">nozzle")
    rows = [("idle", "sound", "1200 psi", "", "4 gpm"), ("", "A", "900 psi", "25 % down", "")]
    narrow, width, height = grid(heads, rows, (10, 80, 200, 260, 380), width=600)[3]
    assert list(cells(narrow)) == ["idle, sound", "gauge 1200 psi · nozzle 4 gpm", "A", "gauge 900 psi (25 % down)"]
    assert max(float(each.get("y")) for each in cells(narrow).values()) < height
    assert width == 380
    long = " ".join(["word"] * 40)
    assert all(len(line) <= 60 for line in cells(grid(("a",), [(long,)], (10,), width=600)[3][0]))


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
