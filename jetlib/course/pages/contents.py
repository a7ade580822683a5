"""The one table of the course's pages: order, titles, minutes. Bars, start-page map and tests are made from it."""

from dataclasses import dataclass
from pathlib import Path

LESSONS = Path(__file__).parents[3] / "lessons"


@dataclass(frozen=True)
class Page:
    """A page of the course: file stem, title, minutes (0: no fixed time), what the reader can do after it.

    deeper: minutes of the part *Go deeper*. Both are worked out by `tests/lessons/test_reading.py`.
    """

    stem: str
    title: str
    minutes: int
    can: str
    deeper: int = 0

    @property
    def number(self):
        """The lesson's number, such as "02", or "" for a page beside the lessons."""
        head = self.stem.split("_")[0]
        return head if head.isdigit() else ""

    @property
    def name(self):
        """Number and title."""
        return f"{self.number} {self.title}".strip()

    @property
    def link(self):
        """Markdown link to the page from another one."""
        return f"[{self.name}]({self.stem}.ipynb)"


_ALL = (
    Page("00_start_here", "Start here", 15, "find your way, choose your units, know the cautions"),
    Page("01_pump_and_gauge", "Pump and gauge", 30, "say why a pump makes flow and the circuit makes pressure", 45),
    Page("02_orifice_flow", "Jets", 25, "calculate flow and pressure of a set of jets; add areas, not counts", 40),
    Page(
        "03_hose_friction",
        "Hose friction",
        25,
        "calculate what a hose loses; add hoses in series; allow for the reel",
        45,
    ),
    Page(
        "04_whole_circuit", "The whole circuit", 25, "put pump, hose and jets together; predict the gauge reading", 50
    ),
    Page("05_bypass", "Bypass", 25, "find the throttle at which the bypass valve opens, and what is lost there", 55),
    Page(
        "06_sizing_jets",
        "Sizing jets",
        25,
        "choose jets in real drill sizes so that the gauge just reaches the bypass setting at full throttle",
        45,
    ),
    Page(
        "07_choosing_hose",
        "Choosing hose",
        30,
        "weigh a larger bore against stiffness, weight and the size of the pipe",
        55,
    ),
    Page(
        "08_reading_the_gauge", "Reading the gauge", 30, "find the fault from a few readings; choose the next check", 60
    ),
    Page("09_pull_and_cut", "Pull and cut", 30, "calculate pull, reach and jet power", 60),
    Page(
        "10_power_water_heat",
        "Power, water, heat",
        30,
        "know what the engine, the tank and the heat of the bypass allow",
        50,
    ),
    Page("11_job_plan", "Job plan", 30, "plan a whole job from pipe and machine to a job card", 45),
    Page("12_callouts", "Callouts", 30, "take a whole job from the phone call to the hose back on the reel", 15),
    Page("bench", "Bench", 0, "do the calculations for your own rig, with no code in sight"),
    Page("rules", "Rules of thumb", 0, "see how far each rule of thumb holds"),
    Page("your_own_sums", "Your own sums", 0, "calculate with Python: your rig, your question, your plot"),
    Page("classroom", "Classroom", 0, "session plans, votes, hidden faults and callouts for a trainer"),
    Page("evidence", "How sure is it", 0, "see what each formula was checked against"),
    Page("glossary", "Glossary", 0, "look a word up"),
)


def pages():
    """The pages that are in the course now, a tuple in reading order."""
    return tuple(page for page in _ALL if (LESSONS / f"{page.stem}.ipynb").is_file())


def lessons():
    """The numbered ones of them."""
    return tuple(page for page in pages() if page.number)


def page(stem):
    """The Page of a file stem; KeyError when the course has none."""
    return {each.stem: each for each in _ALL}[stem]


def navigation(stem):
    """The bar at the top of a page, one line of markdown: back, start page, on."""
    order = [each.stem for each in lessons()]
    if stem not in order:
        return page("00_start_here").link.replace("[00 ", "[◀ ")
    at = order.index(stem)
    parts = []
    if at > 0:
        parts.append(page(order[at - 1]).link.replace("[", "[◀ ", 1))
    if at > 1:
        parts.append(page(order[0]).link)
    if at + 1 < len(order):
        parts.append(page(order[at + 1]).link.replace("](", " ▶](", 1))
    return " · ".join(parts)
