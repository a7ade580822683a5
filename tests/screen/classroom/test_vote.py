"""The room vote on the page: counted by keys, buttons and numbers; answered only after that; lost by no restart."""

import re
import shutil
import xml.etree.ElementTree as ElementTree

import ipywidgets as widgets
import pytest

from jetlib.course.classroom import seat_votes
from jetlib.course.classroom.session_plan import plans
from jetlib.course.classroom.vote import names, question
from jetlib.course.classroom.vote_file import VoteFile, begun, unfinished
from jetlib.screen.classroom.vote import room_vote
from jetlib.screen.classroom.vote_picture import WIDTH, line_picture, vote_picture
from jetlib.units import SYSTEMS

CHOICE, NUMBER, BANDS = "04-twice-the-hose", "02-square-law", "02-double-flow"


@pytest.fixture(autouse=True)
def _own_home(tmp_path_factory, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path_factory.mktemp("home")))


@pytest.fixture
def room(tmp_path):
    return room_vote(CHOICE, folder=tmp_path)


def press(room, words):
    found = [each for each in everything(room.box) if isinstance(each, widgets.Button)]
    (button,) = {each for each in found if words in (each.description, each.tooltip)}  # one that is shown twice is one
    button._handle_custom_msg({"event": "click"}, [])


def everything(box):
    yield box
    for child in getattr(box, "children", ()):
        yield from everything(child)


def page(room):
    return " ".join(each.value for each in everything(room.box) if isinstance(each, widgets.HTML))


def words_in(picture):
    tree = ElementTree.fromstring(f"<svg>{picture.content}</svg>")
    return " ".join(node.text for node in tree.iter("text"))


def size_of(picture):
    """The size of the type of a question and its options, which it begins with."""
    return int(re.search(r'font-size="(\d+)"', picture.content)[1])


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", names())
def test_every_question_fits_in_type_that_the_last_row_can_read(name, system):
    """A 25th of a projected page 768 high is 31; the longest questions of all get a little less."""
    asked, vote = question(name), begun(name, 1, "")
    picture = vote_picture(asked, vote.counted([9] * asked.count).reveal(""), system)
    assert size_of(picture) >= 28
    ElementTree.fromstring(picture.svg())
    assert picture.height <= 720
    for node in ElementTree.fromstring(f"<svg>{picture.content}</svg>").iter("text"):
        left = float(node.get("x"))
        wide = 0.62 * float(node.get("font-size")) * len(node.text)  # wider than the type is on the mean
        assert node.get("text-anchor") != "start" or left + wide < 1.25 * WIDTH
    assert len([each for each in question(name).options(system) if each.split()[0] in words_in(picture)]) == asked.count


def test_what_plans_put_up_is_large():
    for plan in plans().values():
        for step in plan.steps:
            if step.vote:
                picture = vote_picture(question(step.vote, step.seed), begun(step.vote, step.seed, ""), "US")
                assert size_of(picture) >= 30


def test_the_answer_is_nowhere_before_it_is_shown(room):
    right = room.asked.options("US")[room.asked.right]
    room.count((1, 2, 3, 4))
    shown = page(room)
    assert "✔" not in room.picture.content and "Right is" not in shown
    assert room.asked.why("US")[:40] not in shown
    assert right in words_in(room.picture) or right.split()[0] in words_in(room.picture)


def test_no_answer_before_a_vote_but_anyway(room):
    press(room, "Show the answer")
    assert "Nobody has voted yet" in page(room)
    assert room.vote.stage == "first vote"
    press(room, "Show it anyway")
    assert room.vote.stage == "answered" and room.vote.anyway
    assert "Right is" in page(room) and "✔ right" in words_in(room.picture)


def test_the_tick_of_a_long_option_stands_clear_of_its_words(tmp_path):
    room = room_vote("05-gauge-with-more-hose", folder=tmp_path)
    room.show_answer(anyway=True)
    found = re.findall(r'<text[^>]* y="([\d.]+)"[^>]*>([^<]*)</text>', room.picture.svg())
    heights = {words: float(y) for y, words in found}
    words = [line for line in heights if line.startswith("It stays")]
    assert words and heights["✔ right"] - heights[words[0]] > 22  # lower than the line that the words stand on


def test_keys_count_and_take_back(room):
    for typed in ("2", "22", "221", "2213"):
        room.fields.tape.entry.value = typed
    assert room.vote.now == (1, 2, 1, 0)
    room.fields.tape.entry.value = "221"
    assert room.vote.now == (1, 2, 0, 0)
    room.fields.counts[3].value = "5"
    press(room, "One hand more for 4")
    press(room, "One hand fewer for 1")
    press(room, "One hand fewer for 3")  # none is left to take
    assert room.vote.now == (0, 2, 0, 6)
    assert [field.value for field in room.fields.counts[:4]] == ["0", "2", "0", "6"]


@pytest.mark.parametrize("typed", ["5", "0", "abc", "-1", "1" * 400, "１"])
def test_a_key_that_is_no_option_is_marked_and_nothing_is_lost(room, typed):
    room.fields.tape.entry.value = "12"
    room.fields.tape.entry.value = typed
    assert room.vote.now == (1, 1, 0, 0)
    assert "Not used" in room.fields.tape.error.value
    assert room.fields.tape.entry.value == typed
    room.fields.tape.entry.value = "123"
    assert room.vote.now == (1, 1, 1, 0) and room.fields.tape.error.value == ""


@pytest.mark.parametrize("typed", ["-1", "1.5", "many", "999", "", "١"])
def test_a_count_that_cannot_be_is_marked(room, typed):
    room.fields.counts[0].value = "3"
    room.fields.counts[0].value = typed
    assert room.vote.now == (3, 0, 0, 0)
    assert "whole number" in room.fields.tape.error.value


def test_two_votes_and_the_gain(room):
    room.fields.people.entry.value = "12"
    room.count((3, 3, 3, 3))
    assert "12 of 12 have voted" in page(room)
    assert "25 % are right" in room.fields.trainer.value and "Explain" in room.fields.trainer.value
    press(room, "Talk, then vote again")
    assert room.vote.now == (0, 0, 0, 0)
    room.fields.tape.entry.value = "222222222113"
    press(room, "Show the answer")
    shown = page(room)
    assert "Right before 25 %, after 75 %" in shown and "67 %" in shown
    assert "3 → 9" in words_in(room.picture)
    assert room.fields.tape.entry.disabled
    room.count((9, 9, 9, 9))
    assert room.vote.now == (2, 9, 1, 0)


def test_more_hands_than_people_is_said(room):
    room.fields.people.entry.value = "5"
    room.count((3, 3, 0, 0))
    assert "more hands than people" in page(room)
    room.fields.people.entry.value = "some"
    assert "Not used" in room.fields.people.error.value and room.vote.people == 5


def test_bars_can_be_kept_back_until_the_answer(room):
    room.fields.hide.value = True
    room.count((1, 8, 0, 3))
    assert "(67 %)" not in words_in(room.picture) and "8 for 2" not in page(room)
    room.show_answer()
    assert "8  (67 %)" in words_in(room.picture)


def test_bars_differ_by_hatching_and_words_not_by_colour_alone(room):
    room.count((1, 8, 0, 3))
    content = room.picture.content
    assert all(f"url(#jl-vote-{at})" in content for at in range(4))
    slopes = {part.split(")")[0] for part in content.split("rotate(")[1:]}
    assert len(slopes) == 5


def test_a_restart_loses_nothing(tmp_path):
    first = room_vote(NUMBER, seed=4, folder=tmp_path)
    first.fields.people.entry.value = "9"
    first.count((1, 2, 3, 0, 0))
    first.talk()
    first.fields.tape.entry.value = "44"
    again = room_vote(folder=tmp_path)
    assert again.vote == first.vote
    assert again.asked.options("US") == first.asked.options("US")
    assert "left unfinished" in page(again)
    again.fields.tape.entry.value = "4"
    assert again.vote.now == (0, 0, 0, 3, 0)
    again.show_answer()
    assert unfinished(tmp_path) is None
    assert room_vote(folder=tmp_path).vote.votes == 0


def test_next_question_goes_into_the_same_file(room, tmp_path):
    room.count((1, 0, 0, 0))
    room.show_answer()
    room.fields.lesson.value = "02"
    room.fields.name.value = NUMBER
    room.other_numbers()
    room.count((2, 0, 0, 0, 0))
    (path,) = tmp_path.glob("votes_*.csv")
    found = VoteFile(path.stem.removeprefix("votes_"), tmp_path).votes()
    assert [(vote.question, vote.seed) for vote in found] == [(CHOICE, 1), (NUMBER, 2)]


def test_the_session_has_the_trainers_name_and_folder(room, tmp_path):
    other = tmp_path / "class"
    room.fields.place.value = str(other)
    assert "no such folder" in room.fields.wrong_place.value
    other.mkdir()
    room.fields.session.value = "monday group"
    assert "no such folder" in room.fields.wrong_place.value or room.fields.wrong_place.value == ""
    room.fields.place.value = str(other) + "/"
    room.count((1, 0, 0, 0))
    assert (other / "votes_monday_group.csv").is_file()
    room.fields.session.value = "../up"
    assert "write a name" in room.fields.wrong_place.value
    assert not list(tmp_path.parent.glob("*up*.csv"))


def test_a_restart_finds_the_folder_that_the_trainer_named(tmp_path):
    first = room_vote(CHOICE)
    first.fields.place.value = str(tmp_path)
    first.count((1, 2, 0, 0))
    assert list(tmp_path.glob("votes_*.csv"))
    again = room_vote()
    assert again.vote == first.vote
    again.add(3, 1)
    assert room_vote().vote.first == (1, 2, 0, 1)
    again.show_answer()
    assert room_vote().folder == tmp_path  # the next one goes there too
    shutil.rmtree(tmp_path)  # the stick is pulled out
    assert room_vote().vote.votes == 0


def test_what_cannot_be_saved_is_said_and_counted_all_the_same(tmp_path):
    (tmp_path / "taken").write_text("a file")
    room = room_vote(CHOICE, folder=tmp_path / "taken")
    room.count((1, 0, 0, 0))
    assert "Not saved" in room.fields.kept.value
    assert room.vote.now == (1, 0, 0, 0)


@pytest.mark.parametrize("name", [CHOICE, NUMBER, BANDS])
def test_units_are_switched_everywhere(tmp_path, name):
    room = room_vote(name, folder=tmp_path)
    room.count([1] * room.asked.count)
    room.show_answer()
    room.use_units("metric")
    assert not re.search(r"\d psi\b", page(room))
    assert room.asked.options("metric")[room.asked.right] in page(room)


@pytest.mark.parametrize("name", names())
def test_numbers_on_a_line_hold_the_right_one(name):
    asked = question(name)
    picture = line_picture(asked, "US")
    assert (picture is None) == (not asked.values)
    if picture is not None:
        ElementTree.fromstring(picture.svg())
        assert "nan" not in picture.content
        assert asked.options("US")[asked.right] in picture.words or asked.in_bands


def test_stored_it_shows_the_question_and_nobodys_votes(room):
    room.count((1, 8, 0, 3))
    stored = room._repr_mimebundle_()
    assert stored["text/plain"].endswith("4  It doubles")
    assert "8" not in stored["text/plain"].split("\n")[2]
    assert "alt=" in stored["text/html"] and "<script" not in stored["text/html"]


@pytest.fixture
def seats(tmp_path, monkeypatch):
    for name in ("asked", "seat01", "seat02", "seat03"):
        (tmp_path / "votes" / name).mkdir(parents=True)
    monkeypatch.setenv("JETLIB_VOTES", str(tmp_path / "votes"))

    def cast(seat, choice):
        monkeypatch.setenv("JETLIB_VOTE_FILE", str(tmp_path / "votes" / seat / "vote.json"))
        seat_votes.cast(seat_votes.at_seat()[0].key, choice)

    return cast


def test_seats_vote_beside_hands_and_nothing_is_counted_twice(seats, tmp_path):
    room = room_vote("02-double-flow", system="US", folder=tmp_path)
    room.seats.press.click()
    assert seat_votes.asked_of_seats(tmp_path / "votes").ask["metric"] == room.asked.ask("metric")
    room.add(0, 2)
    seats("seat01", 1)
    seats("seat02", 1)
    room.seats.look()
    room.seats.look()
    assert room.vote.now[:2] == (2, 2)
    seats("seat02", 0)
    room.seats.press.click()  # asked already: nothing begins anew
    room.seats.look()
    assert room.vote.now[:2] == (3, 1)

    later = room_vote(system="US", folder=tmp_path)  # the kernel has stopped meanwhile
    seats("seat03", 1)
    later.seats.look()
    assert later.vote.now[:2] == (3, 2)
    later.talk()
    assert later.vote.now == (0,) * len(later.vote.first)
    seats("seat01", 1)
    later.show_answer()
    assert later.vote.second[1] == 1 and seat_votes.at_seat() == (None, None)


def test_two_votes_of_a_page_do_not_take_each_other_s_seats(seats, tmp_path):
    first = room_vote("02-double-flow", folder=tmp_path)
    first.seats.press.click()
    seats("seat01", 1)
    first.seats.look()
    second = room_vote("02-areas-add", folder=tmp_path)
    second.seats.press.click()
    first.seats.look()
    assert first.vote.now[1] == 1, "what was counted stays"
    first.put("02-areas-add")
    seats("seat01", 0)
    second.seats.look()
    assert second.vote.now[0] == 1


def test_without_a_room_nobody_is_offered_seats(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_VOTES", str(tmp_path / "none"))
    room = room_vote("02-double-flow", folder=tmp_path)
    room.seats.press.click()
    assert room.seats.press.layout.display == "none" and room.seats.tally == ()
