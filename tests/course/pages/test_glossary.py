"""The glossary: one table, a page made from it, every term where it says it is used."""

import re

import glossary_page
import nbformat
import pytest
from glossary_page import COLUMNS, PAGE, Term, cells, glossary

from jetlib.course.pages.contents import LESSONS, lessons, pages
from jetlib.errors import JetlibError
from jetlib.units.kinds import KINDS

TERMS = glossary()
#: Words that earlier lessons also use in their everyday sense, or of something else.
EVERYDAY = {
    "drag", "efficiency", "fall", "friction on the pipe", "head of water", "pull", "reach", "rise", "run",
    "slip", "standard", "valve seat", "weight of hose",
}  # fmt: skip
PROSE = {
    each.stem: "\n".join(
        # neither the bar, which names other pages, nor links, which are mostly their titles
        re.sub(r"\[[^\]]*\]\([^)]*\)", "", cell.source.partition("\n")[2] if number == 0 else cell.source)
        for number, cell in enumerate(nbformat.read(LESSONS / f"{each.stem}.ipynb", 4).cells)
        if cell.cell_type == "markdown"
    )
    for each in lessons()
}
each_term = pytest.mark.parametrize("term", TERMS, ids=lambda term: term.term)


@each_term
def test_its_lesson_exists_and_uses_it(term):
    assert term.page in {each.stem for each in pages()}
    assert term.is_used_in(PROSE[term.page]), f"{term.page} does not hold {term.looked_for!r}"


@each_term
def test_no_earlier_lesson_uses_it(term):
    if term.term in EVERYDAY:
        return
    earlier = [stem for stem in PROSE if stem < term.page and term.is_used_in(PROSE[stem])]
    assert earlier == [], f"in data/glossary.csv write {earlier[0]} for {term.term}"


@each_term
def test_no_earlier_lesson_introduces_it(term):
    """A lesson that introduces a word sets it apart: *word* or **word**. Later lessons may do so again."""
    apart = re.compile(rf"(?<!\*)\*{{1,2}}{re.escape(term.looked_for)}s?\*{{1,2}}(?!\*)", re.IGNORECASE)
    earlier = [stem for stem in PROSE if stem < term.page]
    assert [stem for stem in earlier if apart.search(PROSE[stem])] == []


def test_only_terms_are_called_everyday():
    assert {term.term for term in TERMS} >= EVERYDAY


@each_term
def test_it_is_told_in_plain_words_with_its_units(term):
    assert term.meaning.endswith(".")
    assert 3 <= len(term.meaning.split()) <= 30
    assert term.symbol == "" or re.fullmatch(r"\$[^$]+\$", term.symbol)
    if term.kind:
        assert KINDS[term.kind].us[0] in term.units
        assert KINDS[term.kind].metric[0] in term.units


def test_a_symbol_stands_in_the_lesson_that_uses_it_first_or_a_later_one():
    for term in TERMS:
        later = "\n".join(text for stem, text in PROSE.items() if stem >= term.page)
        for part in term.symbol.strip("$").split(r"\,"):
            assert re.search(rf"\$[^$]*(?<![A-Za-z]){re.escape(part)}(?![A-Za-z])[^$]*\$", later), (term.term, part)


def test_alphabetical_and_each_once():
    names = [term.term.casefold() for term in TERMS]
    assert names == sorted(set(names))
    assert len(names) >= 80


def test_the_page_is_made_from_the_table():
    stored = [cell.source for cell in nbformat.read(PAGE, 4).cells]
    assert stored == [text.strip("\n") for text in cells()], "run: .venv/bin/python tests/glossary_page.py"
    assert stored[0].splitlines()[0] == "[◀ Start here](00_start_here.ipynb)"
    assert "\n# Glossary\n" in stored[0]


def test_words_are_found_as_words():
    def used(word, text):
        return Term(word, "", "", "It is.", "01_pump_and_gauge", "").is_used_in(text)

    assert used("jet", "The Jets stand")
    assert used("plug", "a hole that plugs")
    assert not used("jet", "jetting")
    assert not used("rise", "enterprise")


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("flow,$Q$,flow,How much.,00_start_here", "5 cells"),
        ("flow,$Q$,flux,How much.,00_start_here,", "kind is 'flux'"),
        ("flow,$Q$,flow,How much.,42_nowhere,", "page is '42_nowhere'"),
        ("flow,$Q$,flow,,00_start_here,", "a term and its meaning"),
        ("flow,$Q$,flow,a | b,00_start_here,", "without the sign"),
    ],
)
def test_a_broken_table_is_refused_with_its_line(line, told, tmp_path, monkeypatch):
    (tmp_path / "glossary.csv").write_text(",".join(COLUMNS) + "\n" + line + "\n", "utf-8")
    monkeypatch.setattr(glossary_page, "DATA", tmp_path)
    with pytest.raises(JetlibError, match=re.escape(told)) as caught:
        glossary.__wrapped__()
    assert "line 2" in str(caught.value)


def test_a_missing_table_is_told(tmp_path, monkeypatch):
    monkeypatch.setattr(glossary_page, "DATA", tmp_path)
    with pytest.raises(JetlibError, match="cannot read"):
        glossary.__wrapped__()
