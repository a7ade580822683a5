"""A callout on screen: everything by its own buttons, from the call to the review, in either unit system."""

import json

import ipywidgets as widgets
import pytest

from jetlib.course.callouts.kinds import kinds
from jetlib.course.pages.contents import LESSONS
from jetlib.screen.callouts.console import callout_console


def buttons(box):
    found = []
    for each in getattr(box, "children", ()):
        found += [each] if isinstance(each, widgets.Button) else buttons(each)
    return found


def press(console, words):
    made = next(each for each in buttons(console.box) if each.description.startswith(words))
    made.click()


def fields(box):
    found = []
    for each in getattr(box, "children", ()):
        found += [each] if isinstance(each, widgets.Text) else fields(each)
    return found


def field(console, label):
    return next(each for each in fields(console.box) if each.description == label)


@pytest.fixture(autouse=True)
def kept_in(tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path))
    return tmp_path


@pytest.fixture
def job():
    console = callout_console("grease", seed=3, system="US")
    press(console, "What is the pipe")
    console._wall["rigid"].value = "with extension"
    field(console, "Gauge at the working throttle").value = "2700 psi"
    field(console, "Flow at the nozzle").value = "9 gpm"
    press(console, "Go:")
    return console


def test_from_the_call_to_the_reel_by_its_buttons(job):
    assert "White plastic" in job._call.value and job.play.plan is not None
    for words in ("Put it into", "Idle", "As planned", *["Feed in 30"] * 3, "Pull back 10", *["Feed in 30"] * 3):
        press(job, words)
    while job.play.mark > 3.2:
        press(job, "Pull back 10 ft" if job.play.mark > 6.1 else "Pull back 3 ft")
    for words in ("Idle", "Stop", "Pull back 30", "Relieve", "Take it out"):
        press(job, words)
    assert "Gauge 0 psi" in job._words.value and "nozzle is outside" in job._words.value
    job._picks["finish"][0].value = job.play.cause
    press(job, "Finish the job")
    assert job.play.end.safe and "Three things to do differently" in job._told.value
    assert "2700 psi" in job._told.value and job._over.layout.display is None
    press(job, "Try it again")
    assert job.play.dealt.again == 1 and job.play.end is None and job._told.value == ""


def test_an_unsafe_act_ends_it_on_the_page(job):
    press(job, "Put it into")
    press(job, "Full throttle")
    press(job, "Take it out")
    assert not job.play.end.safe and "flies back" in job._told.value and job._working.layout.display == "none"


def test_what_was_committed_is_what_was_typed(job):
    assert job.play.estimates["gauge"] == pytest.approx(2700 * 6894.757)
    assert job.play.setup.rigid == "with extension"


def test_units_follow_everywhere(job):
    press(job, "Put it into")
    press(job, "Full throttle")
    job.use_units("metric")
    assert " bar" in job._words.value and "psi" not in job._words.value + job._told.value
    assert any(each.description == "Feed in 10 m" for each in buttons(job.box))


def test_nothing_that_is_typed_breaks_it():
    console = callout_console("grease", system="US")
    for made in fields(console.box):
        for typed in ("", "abc", "-3 gpm", "1e999", "9" * 400, "<b>x</b>"):
            made.value = typed
    press(console, "Answer the phone")
    assert "write a whole number" in console._said.value
    console.take(7)
    assert console.play.dealt.seed == 7


def test_what_cannot_be_done_is_said_and_a_second_try_has_another_surprise(job):
    job.do("ask", "pipe")
    assert "✘" in job._said.value and len(job.play.asked) == 1, "the job has begun: nobody is on the phone"
    first = job.play.dealt
    job.again()
    assert (job.play.dealt.seed, job.play.dealt.again) == (first.seed, first.again + 1) and job.play.plan is None
    assert job.play.dealt.surprise != first.surprise


def test_what_stands_on_the_page_says_only_what_is_known():
    """Nothing of the surprise is in any widget before the end."""
    console = callout_console("grease", seed=1, system="US")
    held = " ".join(each.value for each in walk(console.box) if isinstance(each, widgets.HTML))
    for surprise in kinds()["grease"].surprises:
        assert surprise.words not in held


def walk(box):
    yield box
    for each in getattr(box, "children", ()):
        yield from walk(each)


def test_the_page_says_what_friday_s_call_shows():
    """Lesson 12 tells what its call gives: the answers by the engine, as a needle is read."""
    page = "".join(
        cell["source"] if isinstance(cell["source"], str) else "".join(cell["source"])
        for cell in json.loads((LESSONS / "12_callouts.ipynb").read_text("utf-8"))["cells"]
    )
    console = callout_console("grease", seed=10, system="US")
    console._wall["rigid"].value = "with extension"
    for words in ("Go:", "Put it into", "Idle"):
        press(console, words)
    idle = console.play.moments[-1].seen
    press(console, "Full throttle")
    full = console.play.moments[-1].seen
    press(console, "Feed in 30 ft")
    plugged = console.play.moments[-1].seen
    press(console, "Idle")
    again = console.play.moments[-1].seen
    assert not full.returns and plugged.returns and f"{float(console.play.dealt.surprise.at) * 90:.0f} ft" in page
    for seen, told in ((idle, 550), (full, 2870), (plugged, 2990), (again, 1240)):
        assert f"{told} psi" in page and seen.gauge == pytest.approx(told * 6894.757, rel=0.012)
    assert console.play.dealt.wrong == "where" and "wall" in console.play.dealt.answer("where", "US")


def test_a_callout_goes_on_after_the_kernel_has_stopped(job, kept_in):
    for words in ("Put it into", "Idle", "Feed in 10 ft"):
        press(job, words)
    later = callout_console("liner", seed=1, system="US")
    assert later.play.dealt.kind.id == "liner" and "Grease in a kitchen line, left" in later._left_words.value
    press(later, "Go on with it")
    assert later.play.moments == job.play.moments and later._words.value == job._words.value
    assert later._left.layout.display == "none" and later._working.layout.display is None
    press(later, "Full throttle")
    press(later, "Take it out")
    over = callout_console("liner", system="US")
    press(over, "Go on with it")
    assert "flies back" in over._told.value
    (kept_in / "callouts.json").write_text(
        '{"schema": 1, "held": {"Callout": {"record": {"callout": "x"}, "more": 3}}}'
    )
    assert callout_console("liner", system="US")._left.layout.display == "none"


def test_what_was_kept_is_not_offered_once_another_is_begun(job):
    later = callout_console("grease", seed=4, system="US")
    press(later, "What is the pipe")
    assert later._left.layout.display == "none"
    again = callout_console("grease", seed=9, system="US")
    again.go_on()
    assert again.play.dealt.seed == 4 and again.play.asked == ["pipe"]


def test_a_disk_that_refuses_is_told_and_the_callout_goes_on(job, kept_in):
    (kept_in / "callouts.json").write_text('{"schema": 99, "held": {}}')
    press(job, "Put it into")
    assert "Not kept on disk" in job._said.value and job.play.inside
    assert '"schema": 99' in (kept_in / "callouts.json").read_text()
