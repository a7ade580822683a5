"""Handouts, keys and sheets for a room: every exercise once, and the key belongs to the sheet."""

import re
from collections import Counter

import nbformat
import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.choosing import Ordering
from jetlib.course.exercises.numeric import Numeric
from jetlib.course.pages import contents
from jetlib.errors import JetlibError
from jetlib.paper.page.document import Document, write
from jetlib.paper.sheets.answers import answer_key, seat_sheets
from jetlib.paper.sheets.lesson import exercises_in_order, handout
from jetlib.paper.sheets.questions import mistake_rows, right_words

EXERCISE = re.compile(r'data-exercise="([^"]+)" data-seed="([0-9]+)"')


def words(text, read):
    """Text as it comes off a page."""
    return read(text.replace("&", "&amp;").replace("<", "&lt;"))


@pytest.mark.parametrize("lesson", bank.lessons())
def test_a_worksheet_holds_the_first_predictions_and_exercises_and_no_answer(lesson, read):
    page = handout(lesson, seed=3, system="metric").html()
    held = EXERCISE.findall(page)
    assert 2 <= len(held) <= 4
    assert held == [(each.id, "3") for each in exercises_in_order(lesson)[: len(held)]]
    guesses = re.findall(r'data-prediction="([^"]+)"', page)
    assert guesses == [each.id for each in bank.predictions(lesson)][:2]
    text = read(page)
    assert not re.search(r"\b(press|slider|button)\b", text, re.I)
    for name, _ in held:
        variant = bank.exercise(name).variant(3)
        for line in variant.question("metric").split("\n"):
            assert words(line, read).strip() in text
        assert words(variant.solution("metric").split("\n")[-1], read).strip() not in text
    for each in bank.predictions(lesson):
        assert words(each.reason("metric"), read).strip() not in text


@pytest.mark.parametrize(("system", "paper"), [("US", "Letter"), ("metric", "A4")])
def test_every_worksheet_is_two_pages(system, paper, browser, tmp_path, texts):
    sections = [handout(each, system=system, paper=paper).sections[0] for each in bank.lessons()]
    pages = texts(write(Document("all", tuple(sections), system, paper), tmp_path)[1])
    feet = Counter(title for page in pages for title in _titles(page, sections))
    assert feet == {section.title: 2 for section in sections}


def _titles(page, sections):
    text = " ".join(page.split())
    return [each.title for each in sections if f"{each.title} | seed" in text]


@pytest.mark.parametrize("lesson", ["02", "05", "08", "11"])
def test_the_key_of_a_seed_answers_the_sheet_of_that_seed(lesson, read):
    sheet, key = handout(lesson, seed=9), answer_key(lesson, seed=9)
    held = EXERCISE.findall(sheet.html())
    assert held == EXERCISE.findall(key.html())[: len(held)]  # so that both number them alike
    text = read(key.html())
    for each in exercises_in_order(lesson):
        variant = each.variant(9)
        for line in [*variant.question("US").split("\n"), *variant.solution("US").split("\n")]:
            assert words(line, read).strip() in text
        assert f"Answer: {words(right_words(variant, 'US'), read).strip()}" in text
        for written, name, said in mistake_rows(variant, "US"):
            for part in (written, name, *said.split("\n")):
                assert words(part, read).strip() in text
    for each in bank.predictions(lesson):
        assert words(each.said(each.right(), "US"), read).strip() in text


@pytest.mark.parametrize("system", ["US", "metric"])
def test_what_the_key_calls_right_or_a_mistake_is_so_when_it_is_typed(system):
    # what stands on paper has three figures: it must still be told from everything else
    checked = 0
    for each in bank.all_exercises():
        variant = each.variant(4)
        if isinstance(each, Numeric):
            assert variant.check(right_words(variant, system), system).status == "right"
            for written, name, _ in mistake_rows(variant, system):
                assert variant.check(written, system).mistake == name
                checked += 1
        elif isinstance(each, Ordering):
            letters = [key for key, _ in each.shown_options(variant, system)]
            order = [letters["ABCDEFGH".index(letter)] for letter in right_words(variant, system).split(", ")]
            assert variant.check(order, system).status == "right"
    assert checked > 100


def test_another_seed_has_other_numbers_and_the_same_seed_the_same():
    assert handout("02", seed=7).html() == handout("02", seed=7).html()
    one, other = handout("02", seed=7).html(), handout("02", seed=8).html()
    assert one.replace("seed 7", "seed 8").replace('seed="7"', 'seed="8"') != other


def test_seats_differ_and_one_key_answers_them_all(read):
    sheets, key = seat_sheets("03", 6, seed=20)
    assert [section.seed for section in sheets.sections] == list(range(20, 26))
    bodies = [re.sub(r'data-seed="\d+"', "", section.body) for section in sheets.sections]
    assert len(set(bodies)) == 6
    for section in sheets.sections:
        found = EXERCISE.findall(section.body)
        assert sorted(found) == sorted((each.id, str(section.seed)) for each in bank.exercises("03"))
        assert section.body.count('class="caution"') == 1
    (told,) = key.sections
    text = read(told.body)
    for each in bank.exercises("03"):
        for seat, section in enumerate(sheets.sections, start=1):
            variant = each.variant(section.seed)
            row = f" {seat} {section.seed} {words(right_words(variant, 'US'), read).strip()} "
            assert row in text, f"{each.id}, seat {seat}"
            for written, name, _ in mistake_rows(variant, "US"):
                assert words(written, read).strip() in text and words(name, read).strip() in text


def test_seats_that_cannot_all_differ_are_refused():
    class Same:
        """Whatever the seed, the same question: all sheets would be one."""

        id = "02-areas-add"

        def __getattr__(self, name):
            return getattr(bank.exercise(self.id), name)

        def variant(self, seed):
            return bank.exercise(self.id).variant(1)

    from jetlib.paper.sheets.answers import _dealt

    with pytest.raises(JetlibError, match="only 1 different sheets for 3 seats"):
        _dealt((Same(),), 3, 1, "US")


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: handout("99"), "lesson is '?99"),
        (lambda: handout("02", system="imperial"), 'write "US" or "metric"'),
        (lambda: handout("02", paper="A3"), 'write "A4", "Letter" or "A5"'),
        (lambda: handout("02", seed=-1), "whole number from 0 up"),
        (lambda: seat_sheets("02", 0), "seats is 0"),
        (lambda: seat_sheets("02", True), "seats is True"),
        (lambda: answer_key("02", only=["03-nothing"]), "has no exercise"),
        (lambda: answer_key("00"), "no exercises"),
    ],
)
def test_what_cannot_be_printed_says_what_can(make, said):
    with pytest.raises(JetlibError, match=said):
        make()


@pytest.mark.parametrize(
    "page", [page for page in contents.lessons() if page.number > "00"], ids=lambda page: page.number
)
def test_the_key_has_what_should_have_been_seen_on_each_console(page):
    """As many answers as the notebook folds away."""
    cells = nbformat.read(contents.LESSONS / f"{page.stem}.ipynb", 4).cells
    folds = re.findall(
        r"What you should have seen</summary>(.*?)</details>", "".join(c.source for c in cells), re.DOTALL
    )
    answers = sum(len(re.findall(r"^\d+\. ", fold, re.MULTILINE)) for fold in folds)
    assert answer_key(page.number).html().count("<strong>Seen:</strong>") == answers > 3
