"""Every printed page carries its typeface, so that it runs to the same pages whatever else a machine has."""

import base64
import re
from dataclasses import replace
from io import BytesIO

import pypdf
import pytest
from bs4 import BeautifulSoup
from fontTools.ttLib import TTFont

from jetlib.course.classroom.class_progress import invented_class
from jetlib.paper.page.document import Document, print_pdf
from jetlib.paper.page.style import NAME, font_faces
from jetlib.paper.sheets.answers import assessment_sheets
from jetlib.paper.sheets.records import class_records


@pytest.fixture(scope="module")
def whole(documents, card):
    """A sheet of each kind, and those of a class's end, as one document."""
    ended = class_records(invented_class(), system="metric")
    made = [documents[name] for name in ("handout", "key", "tables")]
    made += [card("hidden fault", "yard_truck", "metric"), card("gauge", "yard_trailer"), card("job", "yard_trailer")]
    made += [assessment_sheets(1)[0], replace(ended, sections=ended.sections[:2])]
    return Document("whole", tuple(section for each in made for section in each.sections))


def faces():
    return [TTFont(BytesIO(base64.b64decode(data))) for data in re.findall(r"base64,([^)]*)\)", font_faces())]


def printed(html, folder, name):
    page = folder / f"{name}.html"
    page.write_text(html, "utf-8")
    return print_pdf(page, page.with_suffix(".pdf"))


def fonts(page):
    held = page["/Resources"].get_object().get("/Font", {})
    # The browser draws some letters of a picture as shapes of their own (Type 3), which have no name.
    named = [font for key in held if "/BaseFont" in (font := held[key].get_object())]
    return {font["/BaseFont"].split("+")[-1] for font in named}


def test_every_sheet_runs_to_the_same_pages_with_a_wide_and_a_narrow_fallback(whole, tmp_path, browser, texts):
    html = whole.html()
    assert f'"{NAME}", sans-serif' in html
    told = []
    # Bare Debian has both: DejaVu Sans Mono is far wider than DejaVu Sans, DejaVu Sans Condensed far narrower.
    for number, fallback in enumerate(('"DejaVu Sans Mono"', '"DejaVu Sans Condensed"')):
        made = printed(html.replace(f'"{NAME}", sans-serif', f'"{NAME}", {fallback}'), tmp_path, f"{number}")
        told.append(texts(made))
        assert set().union(*map(fonts, pypdf.PdfReader(made).pages)) <= {"DejaVuSans", "DejaVuSans-Bold"}
    assert told[0] == told[1]
    assert_nothing_is_cut(html, [squeezed(each) for each in told[0]])


def squeezed(words):
    """Letters alone: a page breaks lines and sets capitals as it likes."""
    return "".join(words.split()).casefold()


def assert_nothing_is_cut(html, pages):
    """Each row of a table is whole on one page; so are a question of a sheet, and in a key an answer and its working;
    a page where a name is wanted has its line."""
    soup = BeautifulSoup(html.split("<body", 1)[1], "html.parser")
    for place in soup.select("tr, article.question:not(.key), .together, .caution, li"):
        parts = [squeezed(each) for each in place.stripped_strings]
        assert any(all(part in page for part in parts) for page in pages), place.get_text(" ")[:200]
    keyed = soup.select("article.key")
    for key in keyed:
        answer, working = (squeezed(key.select_one(each).get_text()) for each in (".right", ".solution p"))
        assert any(answer in page and working in page for page in pages), answer
    named = "|".join(re.escape(squeezed(section.h1.get_text())) for section in soup.select("section:has(> .named)"))
    wanted = [page for page in pages if re.search(rf"(^|_)({named})\|", page)]  # by the line at its foot
    assert len(keyed) > 5 and len(wanted) > 5 and all("name______" in page for page in wanted)


def test_without_its_typeface_the_pages_would_not_be_the_same(documents, tmp_path, browser, texts):
    html = documents["handout"].html().replace(font_faces(), "")
    wide = printed(html.replace("sans-serif", '"DejaVu Sans Mono"'), tmp_path, "wide")
    narrow = printed(html.replace("sans-serif", '"DejaVu Sans Condensed"'), tmp_path, "narrow")
    told = [[page.splitlines() for page in texts(made)] for made in (wide, narrow)]
    assert told[0] != told[1], "lines and pages break elsewhere"


def test_the_letters_of_the_sheets_are_in_the_typeface(whole):
    words = re.sub(r"<style>.*?</style>|<[^>]*>|data:[^\"]*", "", whole.html(), flags=re.S)
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
