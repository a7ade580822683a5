"""Slips of the hand in a session plan: each is told with file, step and field, and the good plans are still shown."""

import pytest

from jetlib.course.classroom.session_plan import FOLDER, plans, read_plan, refused_plans
from jetlib.errors import JetlibError

GOOD = (FOLDER / "jets_20.toml").read_text("utf-8")
CONSOLE = 'set = { flow = "2 gpm", count = 4, bore = "#60" }'
#: What is written, what is written by mistake (in its first place), and what the message must name.
SLIPS = [
    ('title = "Jets: flow, pressure and area"', "title = 7", ["title is 7"]),
    ('title = "Jets: flow, pressure and area"', 'title = ""', ["has no title"]),
    ('title = "Jets: flow, pressure and area"', 'titel = "Jets"', ["'titel' is not known", "title"]),
    ("minutes = 20", 'minutes = "20"', ["minutes is '20'", "whole number"]),
    ("minutes = 20", "minutes = 20.0", ["minutes is 20.0"]),
    ("minutes = 20", "minutes = true", ["minutes is True"]),
    ("minutes = 20", "minutes = -20", ["minutes is -20"]),
    ("minutes = 20", "minutes = 25", ["add up to 20 minutes", "minutes = 20"]),
    ("minutes = 20", "minutes = 10" + "0" * 400, ["minutes is 1000"]),
    ("minutes = 20\n", "", ["minutes is missing"]),
    ('for_whom = "anybody who fits nozzles; no lesson is needed first"', "for_whom = []", ["for_whom is []"]),
    ('aims = ["say', 'aims = [1, "say', ["aims is", "list of texts"]),
    ('ready = ["Lesson', 'ready = "tab" #', ["ready is 'tab'"]),
    ('prints = ["seats', 'prints = [["seats"], "seats', ["prints is"]),
    ("[[step]]", "[step]", ["line"]),
    ("[[step]]", "[[steps]]", ["'steps' is not known"]),
    ('kind = "cautions"', 'kind = "caution"', ["step 1: kind is 'caution'", "cautions, explain, break", "vote"]),
    ('kind = "cautions"', "kind = 3", ["step 1: kind is 3"]),
    ('kind = "cautions"', 'kind = "explain"', ["does not begin with the cautions"]),
    ("minutes = 5", "minutes = 500", ["step 2: minutes is 500", "1 to 60"]),
    ("minutes = 5", "minutes = nan", ["step 2: minutes is nan"]),
    ("minutes = 5", "minutes = 2026-11-29", ["step 2: minutes is 2026-11-29"]),
    ('page = "classroom"', 'page = "class room"', ["step 2, page: there is no page 'class room'"]),
    ('page = "classroom"', 'page = ["classroom"]', ["step 2: page is"]),
    ('vote = "02-double-flow"', 'vote = "02-double-flaw"', ["step 2, vote: ", "02-double-flaw"]),
    ('vote = "02-double-flow"', "vote = 2", ["step 2: vote is 2"]),
    ('vote = "02-double-flow"', 'vote = "02-double-flow"\nseed = 1.5', ["step 2: seed is 1.5"]),
    ('vote = "02-double-flow"', 'vote = "02-double-flow"\nseed = "one"', ["step 2: seed is 'one'"]),
    ('vote = "02-double-flow"', 'vote = "02-double-flow"\nvote = "02-drill-change"', ["line"]),
    ("wrong = [", "wrong = [{}, ", ["step 2: wrong is"]),
    ('if_split = "Two', 'if_spilt = "Two', ["step 2: 'if_spilt' is not known", "if_split"]),
    ('if_split = "Two', "if_split = 1 #", ["step 2: if_split is 1"]),
    ('console = "jets_console"', 'console = "jet_console"', ["step 3, console: ", "jet_console"]),
    ('console = "jets_console"', 'console = "hose_console"', ["step 3, console: hose_console is on another page"]),
    ('console = "jets_console"', "console = false", ["step 3: console is False"]),
    (CONSOLE, 'set = "2 gpm"', ["step 3: set is '2 gpm'"]),
    (CONSOLE, 'set = [{ flow = "2 gpm" }]', ["step 3: set is"]),
    (CONSOLE, 'set = { flow = ["2 gpm"] }', ["step 3: set.flow is"]),
    (CONSOLE, 'set = { flow = "2 psi" }', ["step 3, set: flow is", "2 gpm"]),
    (CONSOLE, 'set = { flow = "plenty", bore = "#60" }', ["step 3, set: flow is"]),
    (CONSOLE, 'set = { flow = "2 gpm", count = "four", bore = "#60" }', ["step 3", "count"]),
    (CONSOLE, 'set = { flow = "2 gpm", count = -4, bore = "#60" }', ["step 3", "count"]),
    (CONSOLE, 'set = { flow = "2 gpm", count = 4, bore = 60 }', ["step 3, set: bore is 60"]),
    (CONSOLE, 'set = { flow = "2 gpm", hole = "#60" }', ["step 3, set: ", "hole"]),
    (CONSOLE, "set = { flow = nan }", ["step 3: set.flow is nan"]),
    (CONSOLE, "set = { flow = true, bore = true }", ["step 3, set: flow is True"]),
    ("[[step.sees]]", "[step.sees]", ["line"]),
    ('quantity = "gauge"', 'quantity = "guage"', ["step 3, sees 1: ", "guage", "gauge"]),
    ('quantity = "gauge"', "quantity = 1", ["step 3, sees 1: quantity is 1"]),
    ('quantity = "gauge"\n', "", ["step 3, sees 1 has no quantity"]),
    ('after = { flow = "4 gpm" }', 'after = "4 gpm"', ["step 3, sees 1: after is '4 gpm'"]),
    ('after = { flow = "4 gpm" }', 'after = { flow = "-4 gpm" }', ["step 3, sees 1: flow is"]),
    ('after = { flow = "4 gpm" }\n', "", ["step 3, sees 1: a change is promised"]),
    ("times = [3.99, 4.01]", "times = [1.9, 2.1]", ["step 3, sees 1: times is [1.9, 2.1], and", "becomes 4 times"]),
    ("times = [3.99, 4.01]", "times = 4", ["step 3, sees 1: times is 4"]),
    ("times = [3.99, 4.01]", "times = [4.01, 3.99]", ["step 3, sees 1: times is", "smaller first"]),
    ("times = [3.99, 4.01]", 'times = ["3.99", "4.01"]', ["step 3, sees 1: times is"]),
    ("{before} to {after}", "{befor} to {after}", ["step 3, sees 1: say is", "{before}"]),
    ("{before} to {after}", "{before:>999999999}", ["step 3, sees 1: say is"]),
    ("{before} to {after}", "{before.__class__}", ["step 3, sees 1: say is"]),
    ("{before} to {after}", "{before to {after}", ["step 3, sees 1: say is"]),
    ('practice = ["02-square-law"', 'practice = ["02-square-root"', ["step 6, practice: ", "02-square-root"]),
    ('practice = ["02-square-law"', 'practice = [2, "02-square-law"', ["step 6: practice is"]),
    ('title = "Close"', 'title = "Close', ["line"]),
    ("[[step]]", "k." * 45_000 + "k = 1\n[[step]]", ["line 8 is longer than"]),
]  # fmt: skip


@pytest.mark.parametrize(("written", "slip", "told"), SLIPS, ids=lambda each: str(each)[:30])
def test_a_slip_is_told_with_file_step_and_field(written, slip, told, tmp_path):
    assert written in GOOD
    path = tmp_path / "mine.toml"
    path.write_text(GOOD.replace(written, slip, 1), "utf-8")
    with pytest.raises(JetlibError) as caught:
        read_plan(path)
    message = str(caught.value)
    assert message.startswith("mine.toml") and all(each in message for each in told), message
    assert len(message) < 700 and "\n" not in message


def test_the_good_plans_are_shown_beside_all_the_bad_ones_and_a_mended_one_is_read_at_once(tmp_path):
    for number, (written, slip, _) in enumerate(SLIPS[::6]):
        (tmp_path / f"slip_{number:02d}.toml").write_text(GOOD.replace(written, slip, 1), "utf-8")
    (tmp_path / "good.toml").write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    (tmp_path / "folder.toml").mkdir()
    assert list(plans(tmp_path)) == ["good"]
    assert len(refused_plans(tmp_path)) == len(SLIPS[::6]) + 1
    (tmp_path / "slip_00.toml").write_text(GOOD, "utf-8")
    assert list(plans(tmp_path)) == ["good", "slip_00"]
