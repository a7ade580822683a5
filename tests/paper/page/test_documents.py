"""What every page has: a footer that says where its numbers come from, the cautions; and what none has."""

import re

import pytest

import jetlib
from jetlib.errors import JetlibError
from jetlib.paper.page.document import MANUAL, NO_SEED, Document, Section
from jetlib.paper.page.prose import prose
from jetlib.paper.page.style import STYLE, fill

NAMES = ("handout", "handout, metric", "key", "sheets", "key to sheets", "gauge card", "tables", "job card")


@pytest.mark.parametrize("name", NAMES)
def test_each_part_says_seed_version_units_and_source(documents, name, read):
    document = documents[name]
    page = document.html()
    for number, section in enumerate(document.sections, start=1):
        footer = document.footer(section)
        assert (f"seed {section.seed} " if section.seed is not None else NO_SEED) in footer
        assert f"jetlib {jetlib.__version__}" in footer and f"{document.system} units" in footer
        assert re.search(r"Numbers: \w.{20,}", footer)
        assert footer in read(page)  # at the end of the part, for a browser without page footers
        rule = re.search(rf"@page part{number} {{(.*?)\n}}", page, re.S)[1]
        shown = re.search(r'@bottom-left {\s*content: "(.*?)";', rule, re.S)[1]
        assert re.sub(r"\\([0-9a-f]{6})", lambda found: chr(int(found[1], 16)), shown) == footer
        assert 'counter(page) " of " counter(pages)' in rule
        assert ("size: A4" if document.paper == "A4" else "size: letter") in rule
        assert section.body.count('class="caution"') >= 1
        text = read(section.body)
        assert "hospital at once" in text and "high-pressure" in text and "Never put a hand near a jet" in text
        assert MANUAL in text or "The machine's manual, local codes and licensed practice decide" in text


@pytest.mark.parametrize("name", NAMES)
def test_no_page_runs_anything_or_fetches_anything(documents, name):
    page = documents[name].html()
    assert not re.search(r"<(script|iframe|object|embed|link|form|button|input)\b", page)
    assert not re.search(r"<[^>]+\son\w+=", page)
    sources = re.findall(r'\b(?:src|href)="([^"]*)"', page)
    assert all(each.startswith("data:image/") for each in sources)
    assert page.replace("url(data:font/woff;base64,", "").count("url(") == 0 and "@import" not in page


def test_nothing_is_told_by_colour_and_all_is_large_enough():
    colours = set(re.findall(r"#[0-9a-fA-F]{3,6}\b", STYLE))
    assert colours == {"#000", "#fff"}
    sizes = [float(size) for size in re.findall(r"([0-9.]+)pt", STYLE)]
    # only the note that repeats the footer, and small print, are under 11 pt; both above newspaper size
    assert sum(size < 11 for size in sizes) <= 2 and min(sizes) >= 10


@pytest.mark.parametrize(
    "body",
    [
        "<script>alert(1)</script>",
        '<img src="https://example.org/a.png">',
        "<img src=//example.org/a.png>",
        '<p onclick="x()">',
        '<a href="javascript:x()">',
        '<p style="background:url(http://example.org)">',
        "<IFRAME >",
    ],
)
def test_a_body_that_would_act_is_refused(body):
    document = Document("page", (Section("Title", body, "somewhere"),))
    with pytest.raises(JetlibError, match="holds no code and fetches nothing"):
        document.html()


def test_a_title_cannot_leave_its_place():
    title = 'Rig "A" </style><b>\\ {x} }'
    page = Document("page", (Section(title, "<p>x</p>", "a 'source' <i>"),)).html()
    assert "</style><b>" not in page and page.count("</style>") == 1
    assert "<i>" not in page
    assert '"A"' not in re.search(r"@bottom-left.*?;", page, re.S)[0]


@pytest.mark.parametrize("name", ["", "../up", "a/b", "with space"])
def test_a_file_name_stays_in_its_folder(name):
    with pytest.raises(JetlibError, match="letters, digits"):
        Document(name, (Section("T", "", "s"),))


def test_links_and_pictures_of_a_lesson_are_words_on_paper():
    shown = prose(
        "[next](03.ipynb) [paper](https://example.org/x) <https://example.org/z> ![a pump](http://example.org/y.png)"
    )
    assert "<a" not in shown and "next" in shown and "ipynb" not in shown
    assert "paper (https://example.org/x)" in shown and shown.count("https://example.org/z") == 1
    assert "[a pump]" in shown and "<img" not in shown


def test_formulas_are_drawn_and_stand_on_the_line():
    shown = prose("The root $\\sqrt{p}$ and\n\n$$Q = C_d\\,A \\qquad\\text{or}\\qquad p = \\frac{a}{b}$$\n\nend.")
    assert shown.count("<svg") == 2 and "$" not in re.sub(r'aria-label="[^"]*"', "", shown)
    assert "vertical-align:-" in shown and shown.count("<path") > 10
    assert not re.search(r"<p>\s*<div", shown)  # a browser would take that apart
    assert not re.search(r'\bid="', shown)  # no names that two formulas of a page could share


def test_text_in_a_table_is_escaped_and_none_is_a_blank():
    shown = fill("table", heads=("<a>", "b"), rows=[("x & y", None)])
    assert "&lt;a&gt;" in shown and "x &amp; y" in shown and '<td class="blank">' in shown
