"""Practice on the page: what is stored, what the buttons and fields do, what is counted."""

import re
from html import unescape

import ipywidgets as widgets
import pytest

from jetlib.course.banks import registry as bank
from jetlib.course.exercises.exercise import Verdict
from jetlib.course.pages.way import task_after
from jetlib.course.progress.progress import Progress
from jetlib.screen.learning.practice import PracticeConsole, practice
from jetlib.screen.learning.progress_view import CourseMap, GoOn, ProgressConsole, WarmUp, look_again
from jetlib.units import SYSTEMS

VIEW = "application/vnd.jupyter.widget-view+json"
JUNK = ("", "abc", "12", "1e999", "-3 gpm", "NaN psi", "5 furlong", "9" * 10_000, "__import__('os')", "<b>bold</b>")
each_exercise = pytest.mark.parametrize("exercise", bank.all_exercises(), ids=lambda exercise: exercise.id)


@pytest.fixture(autouse=True)
def nobodys_home(monkeypatch, tmp_path):
    """Tests never look at the progress of whoever runs them."""
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path / "home"))


@pytest.fixture
def progress(tmp_path):
    return Progress(tmp_path / "learner")


def everything(box):
    yield box
    for child in getattr(box, "children", ()):
        yield from everything(child)


def of_kind(console, kind):
    return [widget for widget in everything(console.box) if isinstance(widget, kind)]


def press(console, words):
    (found,) = [each for each in of_kind(console, widgets.Button) if each.description.startswith(words)]
    found.click()


def page(console):
    return " ".join(each.value for each in of_kind(console, widgets.HTML))


def fill(console, reply):
    """Put a reply into the fields, as a reader would."""
    texts = of_kind(console, widgets.Text)
    if texts:
        for field, typed in zip(texts, [reply] if isinstance(reply, str) else reply, strict=True):
            field.value = typed
    elif of_kind(console, widgets.RadioButtons):
        of_kind(console, widgets.RadioButtons)[0].value = reply
    elif of_kind(console, widgets.Dropdown):
        for field, key in zip(of_kind(console, widgets.Dropdown), reply, strict=True):
            field.value = key
    else:
        words = dict(console.exercise.shown_options(console.variant, console.system))
        for tick in of_kind(console, widgets.Checkbox):
            tick.value = tick.description in [words[key] for key in reply]


@each_exercise
def test_right_and_every_mistake_through_the_fields(exercise, progress):
    console = PracticeConsole(exercise, progress=progress)
    for system in SYSTEMS:
        console.use_units(system)
        for mistake, reply in console.variant.wrong_replies(system):
            fill(console, reply)
            press(console, "Check")
            assert console.verdict.mistake == mistake.name
        fill(console, console.variant.right_reply(system))
        press(console, "Check")
        assert console.verdict.status == "right"
        assert "✔ Right" in page(console)
    assert progress.record.state(exercise.id) == "done"


@each_exercise
def test_what_is_stored_is_the_question_and_does_not_depend_on_the_learner(exercise, progress):
    fresh = PracticeConsole(exercise, progress=progress)
    stored = fresh._repr_mimebundle_()
    assert set(stored) == {"text/plain", "text/html", VIEW}
    asked = fresh.variant.question("US").split("\n")[0]
    assert asked in stored["text/plain"]
    if exercise.__class__.__name__ not in ("SingleChoice", "MultipleChoice", "Ordering"):
        for system in SYSTEMS:
            for part in fresh.variant.answer_words(system).split("; "):
                secret = rf"(?<![\d.,]){re.escape(part.split(': ')[-1])}(?!\w)"
                assert not re.search(secret, stored["text/plain"] + stored["text/html"])
    assert fresh.variant.solution("US")[:60] not in stored["text/html"]
    fresh.check(fresh.variant.right_reply("US"))
    later = PracticeConsole(exercise, progress=progress)._repr_mimebundle_()
    assert (later["text/plain"], later["text/html"]) == (stored["text/plain"], stored["text/html"])


@each_exercise
def test_every_widget_can_be_moved_and_every_button_pressed(exercise, progress):
    console = PracticeConsole(exercise, progress=progress)
    for words in ("Check", "Hint", "Check", "Hint", "Worked", "Check", "New", "Check", "Worked", "New"):
        press(console, words)
    for junk in JUNK:
        for field in of_kind(console, widgets.Text):
            field.value = junk
        press(console, "Check")
        assert console.verdict.status != "right" or junk == "12"  # right where no unit is wanted
        assert "<b>bold" not in page(console)
    for field in of_kind(console, widgets.RadioButtons) + of_kind(console, widgets.Dropdown):
        for _, key in field.options if isinstance(field.options[0], tuple) else ():
            field.value = key
            press(console, "Check")
    for tick in of_kind(console, widgets.Checkbox):
        tick.value = True
        press(console, "Check")


def test_hints_come_one_at_a_time_and_then_no_more(progress):
    console = practice("02-square-law")
    console.progress = progress
    first, second = (console.variant.hint(number, "US") for number in (1, 2))
    assert first not in page(console)
    press(console, "Hint 1 of 2")
    assert first in page(console)
    assert second not in page(console)
    press(console, "Hint 2 of 2")
    assert second in page(console)
    (hint,) = [each for each in of_kind(console, widgets.Button) if each.description.startswith("Hint")]
    assert hint.disabled


def test_an_empty_reply_is_no_attempt(progress):
    console = PracticeConsole(bank.exercise("02-square-law"), progress=progress)
    press(console, "Check")
    for typed in ("abc", "5 furlong"):
        fill(console, typed)
        press(console, "Check")
    assert progress.record.attempts == ()
    fill(console, "1 psi")
    press(console, "Check")
    assert [attempt.status for attempt in progress.record.attempts] == []  # below what a gauge can read: unreadable
    fill(console, "100 psi")
    press(console, "Check")
    assert [attempt.status for attempt in progress.record.attempts] == ["wrong"]


def test_after_the_solution_a_try_does_not_count_until_a_new_variant(progress):
    console = PracticeConsole(bank.exercise("02-square-law"), progress=progress)
    press(console, "Worked solution")
    assert console.variant.answer_words("US") in page(console)
    assert console.variant.answer_words("metric") in page(console)
    fill(console, console.variant.right_reply("US"))
    press(console, "Check")
    assert "does not count" in page(console)
    assert progress.record.attempts == ()
    old = console.variant
    press(console, "New variant")
    assert dict(console.variant.parameters) != dict(old.parameters)
    assert of_kind(console, widgets.Text)[0].value == ""
    assert old.answer_words("US") not in page(console)
    fill(console, console.variant.right_reply("US"))
    press(console, "Check")
    assert progress.record.state("02-square-law") == "done"


def test_a_new_variant_is_one_the_learner_has_not_had(progress):
    progress.attempt("02-square-law", 11, Verdict("wrong", ""))
    console = PracticeConsole(bank.exercise("02-square-law"), progress=progress)
    assert console.variant.seed == 1
    press(console, "New variant")
    assert console.variant.seed == 12


def test_enter_checks(progress):
    console = PracticeConsole(bank.exercise("02-square-law"), progress=progress)
    (field,) = of_kind(console, widgets.Text)
    field.value = console.variant.right_reply("US")
    field._handle_custom_msg({"event": "submit"}, [])
    assert console.verdict.status == "right"


def test_the_table_is_marked_at_its_fields(progress):
    console = PracticeConsole(bank.exercise("02-square-table"), progress=progress)
    right = console.variant.right_reply("US")
    labels = [field.description for field in of_kind(console, widgets.Text)]
    assert [label[:18] for label in labels] == ["gauge reading for "] * 3
    table = console.fields.grid.children
    columns = len(console.exercise.columns)
    for field, (row, column) in zip(of_kind(console, widgets.Text), console.exercise.blanks, strict=True):
        assert table[columns * (row + 1) + column] is field, "a blank is filled in where it stands in the table"
    assert all(label.endswith(" gpm") for label in labels)
    fill(console, [right[0], "12", ""])
    press(console, "Check")
    marks = re.findall(r'<span role="alert"[^>]*>([^<]*)</span>', page(console))
    assert marks[0].startswith("✔ gauge reading for ") and marks[0].endswith(": Right.")
    assert "too" in marks[1] or "Not yet" in marks[1]
    assert len(marks) == 2


def test_right_says_why_and_what_comes_next(progress):
    console = PracticeConsole(bank.exercise("02-areas-add"), progress=progress)
    console.check("1 in2")
    assert "Next:" not in page(console)
    console.check(console.variant.right_reply("US"))
    assert console.variant.solution("US").splitlines()[-1] in unescape(page(console))
    following = task_after("02-areas-add")
    assert f'href="#{following.id}"' in page(console)
    console.use_units("metric")
    assert console.variant.solution("metric").splitlines()[-1] in unescape(page(console))


def test_a_right_figure_with_the_wrong_unit_is_told_so(progress):
    console = PracticeConsole(bank.exercise("02-square-law"), progress=progress)
    figure = console.variant.right_reply("US").split()[0]
    assert console.check(f"{figure} bar").words.startswith("Right figure, wrong unit")
    assert not console.check("1 psi").words.startswith("Right figure")


def test_a_dangerous_tick_gets_its_reason_at_once(progress):
    console = PracticeConsole(bank.exercise("01-safe-start"), progress=progress)
    safe, unsafe = console.variant.parameters["safe"][0], console.variant.parameters["unsafe"][0]
    console.fields.ticks[safe].value = True
    assert "Not safe" not in page(console)
    console.fields.ticks[unsafe].value = True
    assert "Not safe" in console.fields.reasons[unsafe].value
    console.fields.ticks[unsafe].value = False
    assert "Not safe" not in page(console)


def test_every_field_has_a_label_and_verdicts_are_announced(progress):
    for exercise in bank.all_exercises():
        console = PracticeConsole(exercise, progress=progress)
        for kind in (widgets.Text, widgets.RadioButtons, widgets.Dropdown, widgets.Checkbox):
            assert all(field.description for field in of_kind(console, kind)), exercise.id
        assert 'role="status" aria-live="polite"' in console._said.value


def test_trouble_with_the_disk_is_told_once_and_stops_nothing(tmp_path):
    (tmp_path / "file").write_text("")
    progress = Progress(tmp_path / "file")
    console = PracticeConsole(bank.exercise("02-square-law"), progress=progress)
    console.check(console.variant.right_reply("US"))
    assert console.verdict.status == "right"
    assert "cannot be saved" in page(console)
    other = PracticeConsole(bank.exercise("02-areas-add"), progress=progress)
    other.check(other.variant.right_reply("US"))
    assert "cannot be saved" not in page(other)


# --- the reader's own progress ----------------------------------------------------------------------


def test_progress_shows_what_was_done_and_stores_none_of_it(progress):
    empty = ProgressConsole(progress=progress)
    assert "Lesson 02: 0 of 12 exercises, 0 of 4 predictions." in empty.words
    stored = empty._repr_mimebundle_()
    progress.attempt("02-areas-add", 1, Verdict("right", ""))
    for _ in range(2):
        progress.attempt("02-square-law", 1, Verdict("mistake", "", "linear instead of square"))
    console = ProgressConsole(progress=progress)
    assert "Lesson 02: 1 of 12 exercises, 0 of 4 predictions, 1 due again." in console.words
    assert "linear instead of square (2 times)" in page(console)
    again = console._repr_mimebundle_()
    assert (again["text/plain"], again["text/html"]) == (stored["text/plain"], stored["text/html"])


def test_what_went_wrong_before_a_lesson_is_offered_above_it(progress):
    assert WarmUp("03", progress).box.children == ()
    for name in ("02-areas-add", "02-square-law", "02-edge", "02-bucket-test"):
        progress.attempt(name, 1, Verdict("wrong", ""))
    assert WarmUp("02", progress).cards == []
    offered = WarmUp("03", progress)
    stored = offered._repr_mimebundle_()["text/plain"]
    press(offered, "Warm up first: 3")
    assert "Practice: Add the areas" in page(offered)
    assert [card.variant.seed for card in offered.cards] == [2, 2, 2], "with new numbers"
    assert WarmUp("02", progress)._repr_mimebundle_()["text/plain"] == stored, "nobody's progress is stored"
    assert [card.box for card in offered.cards if card.box in offered._holder.children] == [offered.cards[0].box]
    offered.cards[0].check("not a number")
    assert offered.cards[1].box not in offered._holder.children, "the next comes when the one before is answered"
    offered.cards[0].show_solution()
    assert offered._holder.children[:2] == (offered.cards[0].box, offered.cards[1].box)
    assert offered.cards[2].box not in offered._holder.children
    press(offered, "Show all of them")
    assert offered._holder.children == tuple(card.box for card in offered.cards)
    progress.attempt("02-gone-from-the-course", 1, Verdict("wrong", ""))
    assert len(WarmUp("03", progress).cards) == 3


def test_what_another_page_saved_shows_by_itself(progress, tmp_path):
    views = [GoOn(progress), CourseMap(progress), ProgressConsole(progress)]
    stored = [view._repr_mimebundle_()["text/html"] for view in views]
    assert "Begin with lesson 01" in views[0].box.value
    other = Progress(progress.path.parent)
    other.attempt("02-areas-add", 1, Verdict("right", ""))
    other.commit("02-wider-drill", 1.0e7)
    look_again()
    assert "Go on with 02" in views[0].box.value and "2 of " in views[0].box.value
    assert "1 of 12 exercises, 1 of 4 predictions" in views[1].box.value
    assert "1 of 12 exercises, 1 of 4 predictions" in page(views[2])
    other.attempt("02-areas-add", 2, Verdict("wrong", ""))
    look_again()
    assert "1 of 12 exercises, 1 of 4 predictions" in views[1].box.value, "what is done stays done"
    assert "1 due again" in views[0].box.value
    assert [view._repr_mimebundle_()["text/html"] for view in views] == stored, "nobody's progress is stored"


def test_a_card_says_to_its_page_that_it_is_done(progress):
    console = PracticeConsole(bank.exercise("02-areas-add"), progress=progress)
    assert "course-done" not in console.box._dom_classes
    console.check(console.variant.right_reply("US"))
    console.check("1 in2")
    assert "course-done" in console.box._dom_classes
    assert "course-done" in PracticeConsole(console.exercise, progress=progress).box._dom_classes


def test_export_and_delete(progress, tmp_path):
    progress.attempt("02-areas-add", 1, Verdict("wrong", ""))
    console = ProgressConsole(progress=progress)
    label, path = of_kind(console, widgets.Text)
    path.value = str(tmp_path)
    press(console, "Export")
    assert len(list(tmp_path.glob("jetting_progress_*.json"))) == 1
    label.value = "seat 4"
    press(console, "Export")
    assert (tmp_path / "jetting_progress_seat_4.json").exists()
    label.value = "x" * 41
    press(console, "Export")
    assert "write up to 40 letters" in page(console)
    label.value = ""
    for junk in ("\x00", str(tmp_path / "none" / "here"), "x" * 10_000):
        path.value = junk
        press(console, "Export")
        assert "Not written" in page(console)
    press(console, "Delete")
    assert "Check the box" in page(console)
    assert progress.path.exists()
    of_kind(console, widgets.Checkbox)[0].value = True
    press(console, "Delete")
    assert not progress.path.exists()
    assert "deleted" in page(console)
