"""The words that keep people whole: each is on the page where the reader can act on it, and most of them in bold.

What they are: *common practice, no source*; the hospital words follow the trade's injection cards (from memory).
"""

import re

import nbformat
import pytest

from jetlib.course.banks import registry
from jetlib.course.pages.contents import LESSONS
from jetlib.paper.sheets.questions import asked
from jetlib.rig.diagnosis.checks import CHECKS

PAGES = {
    path.stem[:2]: "\n".join(cell.source for cell in nbformat.read(path, 4).cells if cell.cell_type == "markdown")
    for path in sorted(LESSONS.glob("[0-9][0-9]_*.ipynb"))
}
#: (page, pattern): held in the page's text; those that begin with ** must stand in bold.
WORDS = (
    ("00", r"\*\*It is a surgical emergency even when it does not hurt\. Go to a hospital at once\. Say: "
           r"\*high-pressure water injection, with dirty drain water"),
    ("00", r"ground-fault circuit interrupter \(GFCI\)"),
    ("00", r"hold-to-run control or a dump valve"),
    ("00", r"hearing protection"),
    ("00", r"Exhaust gas kills: run an engine outdoors only"),
    ("00", r"burst disc: it lets go without warning"),
    ("00", r"Never run hose over a sharp edge"),
    ("00", r"blow back through traps"),
    ("00", r"In a short guarded pipe the rear jets can blow out of the near end"),
    ("00", r"Every check in this course needs a second person"),
    ("00", r"hot enough to scald, most of all at full throttle"),
    ("01", r"\*\*Caution\. Never close the outlet to see what happens"),
    ("01", r"timed flow test by the tank level"),
    ("03", r"setting plus rise, surge and reserve"),
    ("04", r"\*\*Caution\. Never adjust the bypass valve"),
    ("05", r"\*\*Caution\. At full throttle the return can be hot"),
    ("07", r"\*\*Caution\. A trapped-pressure"),
    ("08", r"\*\*Caution\. Never hold a running nozzle or a running hose.{0,90}never hold a running nozzle over a "
           r"container: even at idle the jets cut\.\*\*"),
    ("08", r"Time the flow by the tank level"),
    ("09", r"\*\*It can turn around and come back at you\.\*\*"),
    ("10", r"\*\*Caution\. Exhaust gas kills"),
    ("10", r"\*\*Caution\. Water and air can blow back through traps"),
    ("11", r"\*\*[^*]*if it is one bore or less, do not put it in\.\*\*"),
)  # fmt: skip


@pytest.mark.parametrize(("page", "pattern"), WORDS, ids=lambda each: each[-30:])
def test_a_page_says_it(page, pattern):
    assert re.search(pattern, re.sub(r"\s+(?:> )?", " ", PAGES[page]))


def test_nobody_holds_a_running_nozzle_over_anything():
    """Drill, bench and cards take their checks from one catalogue: flow by the tank level, open ends held by nobody."""
    assert "tank level" in CHECKS["nozzle bucket"].caution
    assert "Never hold a running nozzle over a container" in CHECKS["nozzle bucket"].caution
    assert "nobody holds it" in CHECKS["open hose"].caution
    assert "Only where the machine's manual allows it" in CHECKS["open hose"].caution
    opened = ("hose", "jets", "second gauge", "nozzle bucket", "open hose", "return bucket")
    assert all("relieve the pressure" in CHECKS[key].caution for key in opened)


def test_no_exercise_takes_the_gauge_for_all_that_a_hose_must_stand():
    """Whoever compares a hose's rating is told of what comes on top: setting, rise, surge."""
    bare = []
    for exercise in registry.all_exercises():
        if exercise.id.endswith("-terms"):  # says what the word means
            continue
        variant = exercise.variant(1)
        told = asked(1, variant, "US") + variant.solution("US")
        if re.search(r"hose[^.]{0,60}rated for|working pressure", told):
            bare += [exercise.id] * (not re.search(r"surge|rise|setting|plug", told))
    assert bare == []
