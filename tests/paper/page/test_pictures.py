"""Pictures on paper: words of a size to read, none over another, ink without colour, in the units of the sheet."""

import base64
import colorsys
import json
import re
import subprocess
from xml.etree import ElementTree

import pytest

from jetlib.course.pages import contents
from jetlib.paper import answer_key, gauge_card, handout, job_card, rig_tables, seat_sheets
from jetlib.paper.page.document import PAPERS
from jetlib.paper.page.picture import LEAST, PRINTED_WIDTH, for_paper, printed_sizes
from jetlib.paper.page.redraw import drawing_of
from jetlib.paper.page.style import STYLE
from jetlib.paper.sheets.lesson import pieces
from jetlib.rig.parts.rig_file import demo_rig

LESSONS = [page.number for page in contents.lessons() if page.number != "00"]
WIDTH = {"A4": 210.0, "Letter": 215.9}  # mm: ISO 216; ANSI Y14.1, 8.5 in
IMAGE = re.compile(r'<img[^>]*src="(data:image/svg\+xml;base64,[^"]+)"')
SVG = "{http://www.w3.org/2000/svg}"


def pictures(lesson, system):
    """`src` of each picture of a lesson's handout."""
    return IMAGE.findall(handout(lesson, system=system).html())


def drawn(source):
    """The SVG of a `src`, text."""
    return base64.b64decode(source.split(",", 1)[1]).decode()


def stored(content, width=760):
    """A `src` as a lesson stores it."""
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} 100"><style>.a{{}}</style>{content}</svg>'
    return "data:image/svg+xml;base64," + base64.b64encode(svg.encode()).decode()


def told_by(browser, folder, page):
    """What a page's script leaves in the page's title, read as JSON."""
    path = folder / "page.html"
    path.write_text(page, encoding="utf-8")
    command = [browser, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={folder / 'profile'}"]
    done = subprocess.run(
        [*command, "--window-size=1200,900", "--dump-dom", path.as_uri()],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    return json.loads(re.search(r"<title>(.*?)</title>", done.stdout, re.S)[1].replace("&amp;", "&"))


@pytest.mark.parametrize("system", ["US", "metric"])
@pytest.mark.parametrize("lesson", LESSONS)
def test_words_in_pictures_are_at_least_nine_points_as_printed(lesson, system):
    found = pictures(lesson, system)
    assert found
    for source in found:
        sizes = printed_sizes(source)
        assert sizes and min(sizes) >= 9.0, drawn(source)[:200]


@pytest.mark.parametrize("paper", list(PAPERS))
def test_a_picture_is_as_wide_on_paper_as_its_sizes_are_worked_out_for(paper):
    page = handout("02", paper=paper).html()
    margin = float(re.search(r"@page part1 \{ size: \w+; margin: \d+mm (\d+)mm", page)[1])
    inside = float(re.search(r"@media print \{ body \{[^}]*padding: 0 (\d+)mm", STYLE)[1])
    wider = re.search(r"img\.picture \{ width: calc\(100% \+ (\d+)mm\); max-width: none; margin: 0 -(\d+)mm", STYLE)
    text = WIDTH[paper] - 2 * margin - 2 * inside
    printed = text + float(wider[1])
    assert float(wider[1]) == 2 * float(wider[2]) <= 2 * inside  # nothing beyond the margins, where it would be cut
    assert printed >= PRINTED_WIDTH - 0.01
    assert margin >= 6.35  # a quarter of an inch: common practice for what printers can't reach, no source


@pytest.mark.parametrize("system", ["US", "metric"])
def test_no_words_of_a_picture_lie_over_others_or_leave_it(system, browser, tmp_path):
    found = [(lesson, drawn(source)) for lesson in LESSONS for source in pictures(lesson, system)]
    svgs = "".join(f'<div data-lesson="{lesson}" style="width:710px">{svg}</div>' for lesson, svg in found)
    script = """
    const bad = []; let seen = 0;
    for (const holder of document.querySelectorAll("div")) {
      const edge = holder.querySelector("svg").getBoundingClientRect();
      const boxes = [...holder.querySelectorAll("text")].filter(t => t.textContent.trim()).map(t => {
        const b = t.getBoundingClientRect(), trim = 0.12 * Math.min(b.width, b.height);
        return [t.textContent, b.left, b.top + trim, b.right, b.bottom - trim]; });
      seen += boxes.length;
      boxes.forEach((a, i) => {
        if (a[1] < edge.left - 1 || a[3] > edge.right + 1 || a[2] < edge.top - 1 || a[4] > edge.bottom + 1)
          bad.push([holder.dataset.lesson, a[0], "leaves"]);
        boxes.slice(i + 1).forEach(b => {
          if (Math.min(a[3], b[3]) - Math.max(a[1], b[1]) > 1 && Math.min(a[4], b[4]) - Math.max(a[2], b[2]) > 1.5)
            bad.push([holder.dataset.lesson, a[0], b[0]]); });
      });
    }
    document.title = JSON.stringify([seen, bad]);"""
    page = f"<!DOCTYPE html><meta charset=utf-8><title>[0,[]]</title><body>{svgs}<script>{script}</script>"
    seen, bad = told_by(browser, tmp_path, page)
    assert seen > 600
    assert bad == []


@pytest.mark.parametrize("lesson", LESSONS)
def test_pictures_are_without_colour_and_each_curve_has_a_look_of_its_own(lesson):
    for source in pictures(lesson, "US"):
        root = ElementTree.fromstring(drawn(source))
        inks = re.findall(r"(?<!&)#[0-9a-fA-F]{3,6}\b", drawn(source))
        for ink in inks:
            digits = ink[1:] if len(ink) == 7 else "".join(2 * each for each in ink[1:])
            parts = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
            assert colorsys.rgb_to_hls(*parts)[2] == 0, ink
        curves = {
            (each.get("class"), each.get("stroke-dasharray"))
            for each in root.iter(f"{SVG}polyline")
            if re.fullmatch("jl-line-(blue|orange|green|purple|red)", each.get("class") or "")
        }
        for name, dash in curves:
            assert not [other for other, its in curves if its == dash and other != name], (lesson, name, dash)


def test_curves_told_by_colour_alone_get_dashes_on_paper():
    lines = "".join(f'<polyline class="jl-line-{name}" points="0,0 9,9"/>' for name in ("blue", "green", "red", "grey"))
    root = ElementTree.fromstring(drawn(for_paper(stored(lines))))
    dashes = [each.get("stroke-dasharray") for each in root.iter(f"{SVG}polyline")]
    assert dashes[0] is None and len({dashes[1], dashes[2], None}) == 3 and dashes[3] is None


def test_crowded_words_are_drawn_together_and_small_ones_enlarged():
    words = "".join(f'<text x="{x}" y="50" font-size="8">pressure 1234 psi</text>' for x in (10, 118))
    root = ElementTree.fromstring(drawn(for_paper(stored(words))))
    one, other = root.iter(f"{SVG}text")
    assert float(one.get("x")) + float(one.get("textLength")) <= float(other.get("x")) - 4
    assert min(printed_sizes(for_paper(stored(words)))) == pytest.approx(LEAST, abs=0.01)
    wide = for_paper(stored('<text x="1" y="50" font-size="11">a</text>', width=1000))
    assert min(printed_sizes(wide)) == pytest.approx(LEAST, abs=0.01)


@pytest.mark.parametrize("source", ["data:image/png;base64,iVBORw0KGgo=", "data:image/svg+xml;base64,PHN2Zz4="])
def test_what_is_no_sound_svg_comes_back_as_it_is(source):
    assert for_paper(source) == source


@pytest.mark.parametrize("lesson", LESSONS)
def test_a_picture_drawn_anew_is_the_stored_one_and_the_other_system_is_another(lesson):
    found = [piece for piece in pieces(lesson) if "<img" in piece.content and piece.kind == "figure"]
    assert found
    for piece in found:
        assert piece.drawing is not None
        assert piece.drawing.html("US").strip() == piece.content.strip()


def test_a_metric_handout_has_no_pressure_in_psi_in_its_pictures():
    for lesson in ("02", "04", "05", "08", "11"):
        text = "".join(drawn(each) for each in pictures(lesson, "metric"))
        assert " bar" in text or ", bar" in text
        assert "psi" not in text and "gpm" not in text and "lbf" not in text


def test_only_consoles_with_plain_values_are_drawn_anew():
    assert drawing_of('jets_console(count=4, bore="#60")').named == (("count", 4), ("bore", "#60"))
    for source in (
        "jets_console(count=f())",
        "other_console()",
        "x = 1",
        "",
        "jets_console(**{})",
        "system('ls')",
        "(",
    ):
        assert drawing_of(source) is None


@pytest.mark.parametrize("paper", list(PAPERS))
def test_nothing_is_wider_than_the_page(paper, browser, tmp_path):
    from jetlib.course.banks.yard_job import yard_plan

    sheets, key = seat_sheets("08", 3, paper=paper)
    made = [handout(lesson, paper=paper, system="metric") for lesson in ("05", "08", "11")]
    made += [answer_key("08", paper=paper), sheets, key, gauge_card(demo_rig("yard_small_bore"), paper=paper)]
    made += [rig_tables(demo_rig("yard_small_bore"), paper=paper), job_card(yard_plan("yard_truck"), paper=paper)]
    parts = []
    for number, document in enumerate(made):
        body = re.search(r"<body>(.*)</body>", document.html(), re.S)[1]
        parts.append(f'<div class="sheet" data-name="{number} {document.name}">{body}</div>')
    width = WIDTH[paper] - 22.0
    script = """
    const bad = []; let seen = 0;
    for (const sheet of document.querySelectorAll(".sheet")) {
      const edge = sheet.getBoundingClientRect();
      for (const each of sheet.querySelectorAll("*")) {
        const b = each.getBoundingClientRect(); seen += 1;
        const spare = each.matches("img.picture") ? 0 : 4 * 96 / 25.4;  // only pictures may use the margin's first 4 mm
        if (!each.closest("svg.maths") && (b.left < edge.left + spare - 1 || b.right > edge.right - spare + 1))
          bad.push([sheet.dataset.name, each.tagName, each.textContent.slice(0, 40), b.right - edge.right]);
      } }
    document.title = JSON.stringify([seen, bad.length, bad.slice(0, 5)]);"""
    own = f".sheet{{width:{width}mm;padding:0 4mm}} body{{max-width:none !important;padding:0 !important}}"
    page = (
        f"<!DOCTYPE html><meta charset=utf-8><title>[0,[]]</title><style>{STYLE}{own}</style>"
        f"<body>{''.join(parts)}<script>{script}</script>"
    )
    seen, count, bad = told_by(browser, tmp_path, page)
    assert seen > 3000
    assert count == 0, bad
