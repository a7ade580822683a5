"""Every page is in the one table, its bar and minutes are those of the table, and no link is dead."""

import re

import nbformat
import pytest

from jetlib.course.pages.contents import LESSONS, lessons, page, pages

NOTEBOOKS = {path.stem: nbformat.read(path, 4) for path in sorted(LESSONS.glob("*.ipynb"))}
ROOT = LESSONS.parent


def prose(notebook):
    return "\n".join(cell.source for cell in notebook.cells if cell.cell_type == "markdown")


def test_no_page_is_left_out_of_the_table():
    assert sorted(NOTEBOOKS) == sorted(each.stem for each in pages())


def navigation(stem):
    """The bar at the top of a page, one line of markdown: back, start page, on."""
    order = [each.stem for each in lessons()]
    if stem not in order:
        return "[◀ Start here](00_start_here.ipynb)"
    at = order.index(stem)
    parts = []
    if at > 0:
        parts.append(link(order[at - 1]).replace("[", "[◀ ", 1))
    if at > 1:
        parts.append(link(order[0]))
    if at + 1 < len(order):
        parts.append(link(order[at + 1]).replace("](", " ▶](", 1))
    return " · ".join(parts)


def link(stem):
    return f"[{page(stem).name}]({stem}.ipynb)"


@pytest.mark.parametrize("stem", NOTEBOOKS)
def test_bar_title_and_minutes_are_those_of_the_table(stem):
    first = NOTEBOOKS[stem].cells[0].source
    here = page(stem)
    assert first.splitlines()[0] == navigation(stem)
    assert re.search(rf"^# {re.escape(here.name)}\b", first, re.MULTILINE)
    if here.number and here.minutes:
        assert f"About {here.minutes} minutes" in prose(NOTEBOOKS[stem])


def anchors(stem):
    return {
        line.lstrip("# ").strip().replace(" ", "-") for line in prose(NOTEBOOKS[stem]).splitlines() if line[:1] == "#"
    }


@pytest.mark.parametrize("stem", NOTEBOOKS)
def test_no_dead_link(stem):
    for target in re.findall(r"\]\(([^)\s]+)\)", prose(NOTEBOOKS[stem])):
        if target.startswith(("http://", "https://")):
            continue
        file, _, anchor = target.partition("#")
        assert not file or (LESSONS / file).resolve().is_relative_to(ROOT)
        assert not file or (LESSONS / file).exists(), target
        if anchor:
            assert anchor in anchors((LESSONS / file).stem if file else stem), target


@pytest.mark.parametrize("stem", NOTEBOOKS)
def test_units_are_chosen_once_above_everything_that_follows_them(stem):
    code = [cell.source for cell in NOTEBOOKS[stem].cells if cell.cell_type == "code"]
    first = int(stem != "your_own_sums")  # there the reader's own lines say in which units
    assert [cell.count("units_choice()") for cell in code] == [first, *[0] * (len(code) - 1)][: len(code)]


def test_the_start_page_leads_to_every_page():
    start = NOTEBOOKS["00_start_here"]
    shown = prose(start) + "".join(
        out.get("data", {}).get("text/html", "") for cell in start.cells for out in cell.get("outputs", [])
    )
    for each in pages():
        if each.stem != "00_start_here":
            assert f"{each.stem}.ipynb" in shown, each.stem


def test_lessons_are_in_order():
    numbers = [each.number for each in lessons()]
    assert numbers == sorted(numbers)
