"""Cards and tables of a rig, their numbers held against formulas and libraries from outside."""

import datetime
import math
import re
from functools import cache
from html import unescape

import fluids
import pytest

from jetlib import (
    BucketTest,
    GaugeReading,
    Hose,
    Jet,
    JetlibError,
    Nozzle,
    Pump,
    Rig,
    Unloader,
    calibrate,
    throttle_sweep,
    uncertainty_band,
)
from jetlib.course.classroom.print_orders import order_from
from jetlib.course.exercises.yard_job import yard_plan
from jetlib.paper.cards.bench import job_card
from jetlib.paper.cards.gauge import gauge_card
from jetlib.paper.cards.rig import rig_tables
from jetlib.paper.page.document import Document, write
from jetlib.paper.sheets.class_set import sheets_of
from jetlib.rig.diagnosis.faults import faults_of
from jetlib.rig.parts.rig_file import demo_rig
from jetlib.units import si
from jetlib.units.refusal import in_one_system

ROW = re.compile(r"<tr>(.*?)</tr>", re.S)
CELL = re.compile(r"<t[dh][^>]*>(.*?)</t[dh]>", re.S)


def rows_under(page, heading):
    """The rows of text of the first table after a heading."""
    part = page.split(f">{heading}</h2>")[1]
    body = re.search(r"<tbody>(.*?)</tbody>", part, re.S)[1]
    return [[cell.strip() for cell in CELL.findall(row)] for row in ROW.findall(body)]


@pytest.fixture(scope="module")
def straight():
    """A rig whose hose lies straight and whose edges are known."""
    return Rig(
        pump=Pump("10 gpm", rated_speed="1450 rpm", idle_speed="600 rpm"),
        valve=Unloader("3000 psi"),
        hoses=[Hose("12.7 mm", "200 ft", roughness="0.01 mm")],
        nozzle=Nozzle([Jet("0.05 in", count=4, discharge_coefficient=0.72, velocity_coefficient=1.0, angle=0.0)]),
        water_temperature="15 degC",
        name="Straight hose",
    )


def test_hose_loss_against_an_outside_library(straight):
    # fluids: Colebrook friction, and Darcy-Weisbach as in any text; water at 15 degC 999.1 kg/m3, 1.138 mPa s
    # (IAPWS values as in CRC Handbook). Three figures are printed: 0.5 %, and as much for the water.
    for flow, shown, *_ in rows_under(rig_tables(straight).html(), "What the hose loses"):
        q, bore, length = si(flow, "flow"), 0.0127, 60.96
        speed = q / (math.pi / 4 * bore**2)
        reynolds = 999.1 * speed * bore / 1.138e-3
        if reynolds < 5000:
            continue
        factor = fluids.friction.Colebrook(reynolds, 1e-5 / bore)
        loss = factor * length / bore * 999.1 * speed**2 / 2
        assert si(shown, "pressure") == pytest.approx(loss, rel=0.01)


def test_jet_flow_against_the_formula_of_nfpa_291(straight):
    # NFPA 291: Q (gpm) = 29.84 Cd d^2 sqrt(p), d in inches, p in psi; four holes. Three figures are printed.
    rows = rows_under(rig_tables(straight).html(), "What the jets pass")
    assert len(rows) >= 8
    for pressure, flow, _, _ in rows:
        psi, gpm = float(pressure.split()[0]), float(flow.split()[0])
        assert gpm == pytest.approx(4 * 29.84 * 0.72 * 0.05**2 * math.sqrt(psi), rel=0.006)


def test_pull_against_momentum(straight):
    # force = density x flow x speed, momentum theorem; straight back, so all of it pulls (999.1 kg/m3 at 15 degC)
    for pressure, flow, _, pull in rows_under(rig_tables(straight, system="metric").html(), "What the jets pass"):
        speed = math.sqrt(2 * float(pressure.split()[0]) * 1e5 / 999.1)
        litres = float(flow.split()[0])
        told = float(pull.split()[0])
        printed_to = 0.5 if told >= 10 else 0.05  # a force has two figures
        assert abs(told - 999.1 * litres / 60000 * speed) <= 0.011 * told + printed_to


@pytest.mark.parametrize(("system", "units"), [("US", ("psi", "gpm", "lbf")), ("metric", ("bar", "L/min", "N"))])
def test_tables_are_in_one_unit_system(system, units):
    page = rig_tables(demo_rig("yard_small_bore"), system=system).html()
    for heading in ("The rig by throttle", "What the hose loses", "What the jets pass"):
        found = {cell.split()[-1] for row in rows_under(page, heading) for cell in row[1:]}
        assert found <= set(units), heading
    assert (
        {"5000 psi"} & set(re.findall(r"\d+ psi", page)) if system == "US" else "345 bar" in page
    )  # its hose's rating


@pytest.mark.parametrize("name", ["yard_trailer", "yard_truck", "yard_cart", "yard_small_bore"])
def test_a_gauge_card_names_everything_that_can_be_wrong_once_in_one_table(name, card):
    rig = demo_rig(name)
    page = card("gauge", name).html()
    causes = [row[4] for row in fault_rows(page)]
    faults = [fault for fault in faults_of(rig) if fault.name != "healthy"]
    assert len(causes) == len(faults)
    for fault in faults:
        (said,) = [cause for cause in causes if cause.startswith(f"{fault.title.removesuffix(' (do not touch it)')}")]
        assert "do not touch" not in said  # it is said once, above the table
    assert "Leave the bypass valve alone" in page
    assert "nan" not in page.split("</style>")[1] and "None" not in page.split("</style>")[1]


def fault_rows(page):
    return [CELL.findall(row) for row in ROW.findall(unescape(page).split("Check next:")[1].split("</table>")[0])]


def test_a_gauge_card_shows_the_readings_that_must_follow(card):
    # worn jets pass more: the gauge is low everywhere; a plugged jet makes it high at idle (square law, any text)
    rows = {row[4].split(" (")[0]: row[:4] for row in fault_rows(card("gauge", "yard_trailer").html())}
    assert rows["The jets are worn"] == ["▼", "▼", "▼", "none"]
    assert rows["A jet is plugged, or several"] == ["▲", "▲", "▲", "full"]
    # the stream sorts a leaking seat from worn jets, which the gauge cannot
    assert rows["The bypass valve's seat leaks to the tank"] == ["▼", "▼", "▼", "always"]


def test_a_gauge_card_holds_the_healthy_readings_with_their_band_and_its_date(read):
    rig = demo_rig("yard_trailer")
    page = gauge_card(rig, system="metric").html()
    band, point = uncertainty_band(rig, [0.0, 0.5, 1.0]), throttle_sweep(rig, [0.0, 0.5, 1.0])
    for at, (_, gauge, span, flow, *_) in enumerate(rows_under(page, "Healthy readings")):
        low, high = (si(f"{part} bar", "pressure") for part in span.removesuffix(" bar").split(" to "))
        assert si(gauge, "pressure") == pytest.approx(point.gauge[at], rel=0.005)
        assert si(flow, "flow") == pytest.approx(point.nozzle_flow[at], rel=0.005)
        assert low <= point.gauge[at] <= high
        # two figures are printed, of 400 drawn rigs
        assert (low, high) == pytest.approx((band.low("gauge")[at], band.high("gauge")[at]), rel=0.09)
    assert f"Calculated on {datetime.date.today():%Y-%m-%d}, not measured." in read(page)


def test_a_measured_rig_has_its_own_narrower_band_and_none_is_called_low_inside_its_band(read):
    rig = demo_rig("yard_trailer")
    point = throttle_sweep(rig, [0.0, 0.5, 1.0])
    taken = [GaugeReading(float(gauge), at) for gauge, at in zip(point.gauge, ("idle", "half", "full"), strict=True)]
    found = calibrate(rig, [*taken, BucketTest(flow=float(point.nozzle_flow[2]))])
    plain = gauge_card(rig)
    page = gauge_card(found.rig, unknowns=found.unknowns)

    def width(page):
        low, high = rows_under(page.html(), "Healthy readings")[2][2].removesuffix(" psi").split(" to ")
        return float(high) - float(low)

    assert width(page) < 0.7 * width(plain)
    assert "what was measured when all was well" in read(page.html())
    assert "not measured" not in read(page.html())
    assert all("Inside the range printed above a gauge can still be healthy" in read(p.html()) for p in (plain, page))


JOBS = {"A4": "yard_truck", "Letter": "yard_small_bore", "A5": "yard_small_bore"}  # two hoses have the most rows


@pytest.fixture(scope="module")
def printed(card, texts, tmp_path_factory):
    """printed(paper): the texts of the pages of each card that is tried on that paper, in order; printed at once."""

    @cache
    def on(paper):
        cards = [card("gauge", "yard_trailer"), card("gauge", "yard_truck"), card("job", JOBS[paper])]
        whole = Document("cards", tuple(each.sections[0] for each in cards), "US", paper)
        pages = [" ".join(page.split()) for page in texts(write(whole, tmp_path_factory.mktemp("cards"))[1])]
        told = [[page for page in pages if f"{section.title} |" in page] for section in whole.sections]
        assert [page for each in told for page in each] == pages
        return told

    return on


@pytest.mark.parametrize("paper", list(JOBS))
def test_a_gauge_card_is_two_pages_at_most(paper, printed, browser):
    for pages in printed(paper)[:2]:
        assert 1 <= len(pages) <= 2 and "Healthy readings" in pages[0]


@pytest.mark.parametrize("paper", list(JOBS))
def test_a_job_card_is_its_steps_on_one_page_and_its_numbers_on_another(paper, printed, browser):
    front, back = printed(paper)[2]
    for words in ("NO GO", "Settle before starting", "Name, date", "hospital", "Drain the pump and hose"):
        assert words in front and words not in back
    assert "eight in ten" in back and "Darcy" in back and "push of the front jets" in back


def test_a_job_card_holds_the_whole_plan_in_one_unit_system(read):
    plan = yard_plan("yard_trailer", access=si("3 in", "pipe_bore"))
    card = plan.card()
    text = read(job_card(plan, system="metric").html())
    for sentence in (
        *card["no_go"], *card["cautions"], *card["hazards"], *card["steps"], *card["options"], card["authority"],
        card["verdict_text"],
    ):  # fmt: skip
        assert re.sub(r"\s+", " ", in_one_system(sentence, "metric")) in text
    for row in card["rows"]:
        shown = re.sub(r"\((\S+) (\S+) to (\S+) \2\)", r"(\1 to \3)", row["words"] or row["metric"])
        assert row["label"] in text and shown in text and (row["source"] in text or row["source"] == "given")
    assert "no limit to no limit" not in text
    assert not re.search(r"\d (psi|gpm|ft|gal|lbf)\b", text.split("Sources.")[0])
    steps = [text.index(in_one_system(each, "metric")) for each in card["steps"]]
    assert steps == sorted(steps)
    assert text.index(card["verdict_text"]) < steps[0]


def test_a_metric_yard_has_a_job_of_round_metric_figures(read):
    order = order_from("job-card yard_trailer")
    (document,), _, _ = sheets_of(order, system="metric")
    text = read(document.html())
    assert "run 30 m;" in text and "hose outside the pipe 12 m;" in text and "tank 400 L" in text
    assert "Fill the tank, 400 L, through" in text and "at the end of the run, 30 m." in text
    assert not re.search("30[.]5|12[.]2 m|88[.]9|379", text)


def test_lengths_of_hose_are_whole_feet_and_meters(read, card):
    text = {system: read(card("job", "yard_trailer", system).html()) for system in ("US", "metric")}
    assert "still 10 ft in" in text["US"] and "at least 3 ft of hose" in text["US"]
    assert "still 3 m in" in text["metric"] and "at least 1 m of hose" in text["metric"]


@pytest.mark.parametrize("make", [gauge_card, rig_tables])
def test_only_a_rig_with_open_jets_has_a_card(make, straight):
    with pytest.raises(JetlibError, match="load_rig"):
        make("yard_trailer")
    with pytest.raises(JetlibError, match="no water can leave"):
        make(straight.replace(outlet_shut=True))
    with pytest.raises(JetlibError, match="plan_job"):
        job_card(straight)
