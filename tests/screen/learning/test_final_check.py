"""The final check: twenty questions, weighted to what went wrong, two callouts, and a record that licenses nobody."""

from collections import Counter

import pytest

from jetlib import print_check_record
from jetlib.course.banks import registry as bank
from jetlib.course.callouts.kinds import kinds
from jetlib.course.classroom.assessment import (
    CALLOUTS,
    QUESTIONS,
    FinalCheck,
    assessment_exercises,
    check_callouts,
    check_exercises,
)
from jetlib.course.exercises.exercise import Verdict
from jetlib.course.progress.record import Attempt, Record
from jetlib.paper.sheets.drills import callout_sheet
from jetlib.paper.sheets.records import check_record
from jetlib.screen.learning.final_check import final_check
from jetlib.screen.learning.practice import practice


def record_with(*wrong):
    return Record(tuple(Attempt(name, 1, "wrong", "", "t", f"{at:012x}", at) for at, name in enumerate(wrong, start=1)))


@pytest.mark.parametrize("seed", range(5))
def test_every_lesson_is_asked_and_it_holds_what_a_class_is_asked(seed):
    asked = check_exercises(Record(), seed)
    assert len(asked) == len({each.id for each in asked}) == QUESTIONS
    assert {each.lesson for each in asked} == set(bank.lessons())
    assert {each.id for each in assessment_exercises(seed)} <= {each.id for each in asked}
    assert check_exercises(Record(), seed) == asked


def test_what_went_wrong_before_is_asked_more_often():
    wrong = [each.id for each in bank.exercises("03")]
    plain, weighted = (
        Counter(each.lesson for seed in range(40) for each in check_exercises(record, seed))["03"]
        for record in (Record(), record_with(*wrong))
    )
    assert weighted > 1.5 * plain


def test_two_callouts_of_which_one_is_a_job():
    found = [check_callouts(seed) for seed in range(40)]
    assert all(len(set(pair)) == CALLOUTS and kinds()[pair[0]].right == "go" for pair in found)
    assert len({name for pair in found for name in pair}) > 9


def test_the_first_try_counts():
    check = FinalCheck(1, bank.exercises("02")[:2])
    name = check.exercises[0].id
    check.attempt(name, 1, Verdict("unreadable", "?"))
    check.attempt(name, 1, Verdict("mistake", "No.", "areas counted"))
    check.attempt(name, 1, Verdict("right", "Right."))
    assert check.right == 0 and check.mistakes == ("areas counted",)
    assert [row[2] for row in check.rows] == ["wrong", "not answered"]


@pytest.fixture
def page(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path))
    made = final_check(lambda check, folder, **given: print_check_record(check, tmp_path / "out", **given), system="US")
    made.begin(3)
    return made


def test_a_check_from_its_first_question_to_the_paper(page, tmp_path):
    console = page._parts[0]
    _, reply = next(iter(console.variant.wrong_replies("US")))
    console.check(reply)
    assert page.check.right == 0 and len(page.check.mistakes) == 1
    for _ in range(QUESTIONS):
        page.go(1)
    callout = page._parts[page._at]
    callout.decide("unsafe")
    page.go(1)
    assert len(page.check.plays) == 1 and "1 of 2 callouts" in page._done.value
    page.print()
    told = (tmp_path / "out").glob("*.html")
    html = next(told).read_text("utf-8")
    assert "This record licenses nobody" in html and page.check.plays[0].dealt.kind.title in html
    assert "The record is written" in page._said.value


def test_nothing_begun_and_nonsense_typed_do_nothing(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path))
    made = final_check(print_check_record, system="US")
    made.go(1)
    made.print()
    made.begin("abc")
    assert made.check is None and "write a whole number" in made._said.value


def test_paper_says_the_truth_to_the_trainer_alone():
    told = callout_sheet("roots", seed=4).html()
    assert kinds()["roots"].title in told and "A plan that works" in told
    assert "No surprise" not in check_record(FinalCheck(1, ())).html()
    assert all(callout_sheet(name, seed=2, system="metric").html() for name in kinds())


def test_a_check_goes_on_another_day_with_its_seed(page, tmp_path):
    first, second = (part.exercise for part in page._parts[:2])
    page._parts[0].check("1")
    page.go(20)
    page._parts[20].do("ask", page._parts[20].play.dealt.kind.questions[0].key)
    practice(second.id, seed=3).check("1")
    later = final_check(lambda *_, **__: (), system="US")
    later.begin(3)
    assert [part.exercise for part in later._parts[:20]] == [part.exercise for part in page._parts[:20]]
    assert list(later.check.replies) == [first.id], "a lesson's numbers are not the check's"
    assert later.check.rows[0] == page.check.rows[0] and later.check.summary == page.check.summary
    later._parts[20].go_on()
    assert later._parts[20].play.actions == page._parts[20].play.actions
    later.begin(4)
    assert later.check.replies == {}


def test_a_check_offers_no_other_callout(page):
    callout = page._parts[20]
    assert callout._top.layout.display == "none" and callout._over.children == ()
