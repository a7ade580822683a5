"""Every printed page carries its typeface, so that it runs to the same pages whatever else a machine has."""

import base64
import re
from io import BytesIO

import pypdf
import pytest
from fontTools.ttLib import TTFont

from jetlib import demo_rig
from jetlib.paper import answer_key, gauge_card, hidden_fault_sheets
from jetlib.paper.page.browser import print_pdf
from jetlib.paper.page.typeface import NAME, font_faces

SHEETS = {
    "hidden fault": lambda: hidden_fault_sheets(demo_rig("yard_truck"), seed=4, system="metric")[0],
    "gauge card": lambda: gauge_card(demo_rig("yard_trailer")),
}


def faces():
    return [TTFont(BytesIO(base64.b64decode(data))) for data in re.findall(r"base64,([^)]*)\)", font_faces())]


def printed(html, folder, name):
    page = folder / f"{name}.html"
    page.write_text(html, "utf-8")
    return pypdf.PdfReader(print_pdf(page, page.with_suffix(".pdf"))).pages


def fonts(page):
    held = page["/Resources"].get_object().get("/Font", {})
    # The browser draws some letters of a picture as shapes of their own (Type 3), which have no name.
    named = [font for key in held if "/BaseFont" in (font := held[key].get_object())]
    return {font["/BaseFont"].split("+")[-1] for font in named}


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_sheet_runs_to_the_same_pages_with_a_wide_and_a_narrow_fallback(sheet, tmp_path, browser):
    html = SHEETS[sheet]().html()
    assert f'"{NAME}", sans-serif' in html
    told = []
    # Bare Debian has both: DejaVu Sans Mono is far wider than DejaVu Sans, DejaVu Sans Condensed far narrower.
    for number, fallback in enumerate(("sans-serif", '"DejaVu Sans Mono"', '"DejaVu Sans Condensed"')):
        pages = printed(html.replace(f'"{NAME}", sans-serif', f'"{NAME}", {fallback}'), tmp_path, f"{number}")
        told.append([page.extract_text() for page in pages])
        assert set().union(*map(fonts, pages)) <= {"DejaVuSans", "DejaVuSans-Bold"}
    assert told[0] == told[1] == told[2]


def test_without_its_typeface_the_pages_would_not_be_the_same(tmp_path, browser):
    html = answer_key("02").html().replace(font_faces(), "")
    wide = printed(html.replace("sans-serif", '"DejaVu Sans Mono"'), tmp_path, "wide")
    narrow = printed(html.replace("sans-serif", '"DejaVu Sans Condensed"'), tmp_path, "narrow")
    told = [[page.extract_text().splitlines() for page in pages] for pages in (wide, narrow)]
    assert told[0] != told[1], "lines and pages break elsewhere"


def test_the_letters_of_the_sheets_are_in_the_typeface():
    words = "".join(
        re.sub(r"<style>.*?</style>|<[^>]*>|data:[^\"]*", "", each().html(), flags=re.S) for each in SHEETS.values()
    )
    for face in faces():
        held = face.getBestCmap()
        assert not {letter for letter in words if letter.isprintable() and ord(letter) not in held}
        assert {ord(each) for each in "×√²³½¼⅜°–—−≤≥±µ·…“”’□☐✓→"} <= set(held)


def test_it_is_about_as_wide_as_the_faces_that_sheets_are_laid_out_in():
    # Advance of "e", "n" and "0" in Helvetica and the faces cut to its measure: 556 of 1000 (Adobe's font metrics)
    face = faces()[0]
    em, widths, letters = face["head"].unitsPerEm, face["hmtx"], face.getBestCmap()
    mean = sum(widths[letters[ord(each)]][0] for each in "en0") / 3 / em
    assert 0.88 * mean == pytest.approx(0.556, rel=0.03)
