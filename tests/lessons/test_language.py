"""Everything a reader sees is plain US English, the trade's own words, one word for one thing.

Held over the pages as shown (text, strings of the code, stored outputs), every exercise's built variants, every
console's sentences and labels in both unit systems, refusals, and paper. Each habit is a pattern with what to write
instead: a native technical editor would rewrite it, or a reader could take it two ways.
"""

import html
import re
from functools import cache

import nbformat
import pytest
from ipywidgets.widgets.widget import _instances

import jetlib
from jetlib import demo_rig
from jetlib.course.banks import registry
from jetlib.course.exercises.yard_job import yard_plan
from jetlib.course.pages.consoles import CONSOLES
from jetlib.course.pages.contents import LESSONS
from jetlib.errors import JetlibError
from jetlib.paper.cards.bench import job_card
from jetlib.paper.cards.gauge import gauge_card
from jetlib.paper.cards.rig import rig_tables
from jetlib.paper.sheets.answers import answer_key, assessment_sheets, seat_sheets
from jetlib.paper.sheets.drills import hidden_fault_sheets
from jetlib.paper.sheets.lesson import handout
from jetlib.screen.consoles.plan_console import job_card as on_a_card
from jetlib.tables import DATA
from jetlib.units import SYSTEMS, si
from jetlib.units.refusal import page_words

NOTEBOOKS = {path.stem: nbformat.read(path, 4) for path in sorted(LESSONS.glob("*.ipynb"))}

#: pattern: what to write instead
HABITS = {
    r"\b(?:litre|metre|colour|fibre|labour|grey|gradient|access chamber|rodding|centre|mould|tyre)s?\b": "US spelling",
    r"\bstands? (?:at|near|below|above|just)\b": "reads, is",
    r"\b(?:hose|line|leader|lift|part|fitting|jets?|it) takes? (?:\d|more|less|what|most|pressure)": "loses, needs",
    r"\basks? for (?:more|less|what|no|power|larger|smaller)\b": "needs",
    r"\bbrings? (?:more|no|water|next to|far|nothing|only)\b": "gives, adds, delivers",
    r"\bway home\b|\bwater back\b|\bgo(?:es)? home\b|\bhome to the tank\b|\bsends? .{0,9}home\b": "returns to tank",
    r"\bparts? (?:the two|them|those|A from)\b": "tells apart",
    r"\bhangs? on (?:the|one|that|it|this|what)\b": "depends on",
    r"\b(?:at|to|from|comes? to|leaves?|shows?|reads?|gets?) nothing\b": "zero",
    r"\bin step\b": "is proportional to",
    r"\bgo(?:es)? (?:as|with) (?:the )?(?:square|root|speed|flow)": "is proportional to",
    r"\bforesee|\bforesaw|\bforeseen|\bbeforehand\b": "predict, in advance",
    r"\btake it that\b|\b[Ll]et the \w+ lose\b|\bTake each\b": "assume, ignore",
    r"\breckon(?!ing)|\bmend(?:ed)?\b|\bweighs? on (?:you|the mind)|\bmade fast\b": "calculate, fix, secured",
    r"\bscrew(?:ed)?\b": "tighten, adjust",
    r"\bturned over\b": "divided the wrong way round",
    r"\b(?:one|two|three) parts? in a hundred|\bparts in a hundred\b|\b(?:fifth|tenth|twentieth|eighth)s\b": "per cent",
    r"\bfour tenths\b|\ba twentieth\b": "per cent",
    r"\b(?:stiff end|stiff piece|stiff part)\b": "rigid nozzle length",
    r"\bhose ends?\b": "end fitting, open end",
    r"\b(?:thin|limp)(?:ner|per)? (?:hose|leader|end)\b|\blimp\b": "small-diameter, flexible",
    r"\bmark(?:ed)? for\b|\bits mark\b|\bhose's mark\b": "rated for, working pressure",
    r"\bbucket tests?\b|\bin a bucket\b": "timed flow test by the tank level",
    r"\bbehind the (?:jets|holes)\b|\bleft behind the jets\b|\bat the jets shows\b": "nozzle pressure",
    r"\bone (?:jet|hole) (?:more|less)\b": "one more, one fewer",
    r"\bopen(?:s|ed|ing)? (?:the jets|every jet|all the holes)\b": "drill larger",
    r"\bwithout harm\b|\bharm(?:ed|s)?\b|\bsound (?:pump|trailer|hose|jets)\b": "damage, in good order",
    r"\bwarmth\b": "heat, temperature",
    r"\brev counter\b|\bturns a minute\b": "tachometer, rpm",
    r"\blet(?:s|ting)? (?:the pressure|it) off\b": "relieve the pressure",
    r"\bsomebody\b(?= couples)|\bwhoever likes\b": "you",
    r"\bworked out beforehand\b|\bsay beforehand\b": "predict",
    r"\bthe gauge lies\b|\bdoes the gauge lie\b": "says nothing about",
    r"\bOn which side of the two\b|\bwants? to be\b": "say it plainly",
    r"\bin bits\b": "number",
    r"\b3\.28 ft\b|\b0\.656\b|\b0\.394\b|\de[+-]\d\d\b": "numbers as people say them",
    r"\berrors off\b|\bseed: none\b|\b(?:rated_flow|nozzle_flow|bypass_flow|working_pressure)\b": "no code names",
    r"\b(?:turns? |other way |wrong way |go |goes |gone |gets? )round\b": "around",
    r"\bas when sound\b|\bwhen sound\b|\bsound rig\b|\bread when sound\b": "when all is well",
    r"\blet(?:s|ting)? (?:the |its )?(?:pressure |water )?off\b|\bpressure (?:let )?off\b": "relieve the pressure",
    r"\ba stream\b|\bno stream\b|\bstream to (?:the )?tank\b": "water returns, return flow",
    r"\bover a (?:bucket|drum|can)\b|\bheld? .{0,20}\b(?:drum|bucket)\b": "timed flow test by the tank level",
    r"\bMore \w+ it (?:brings|gives)\b": "subject, verb, object",
    r"\b(?:may|might) not be run\b|\bis leave to\b": "must not; authorizes",
    r"\bper cent\b|\bafterwards\b|\bpractise|\bset-ups?\b|\bfurther (?:in|out|away)\b": "US spelling",
    r"(?<!\")\bcellar\b|\bgully\b|\bautumn\b|\bcanteen\b|\ballotments?\b|\bfilling station\b": "US words",
    r"\bput right\b": "fix",
    r"\bsee the gauge at zero\b": "check that the gauge reads zero",
    r"\b(?:with|of) one drill\b": "drilled with the same drill",
    r"\b(?:least|less) sure\b|\bsure(?:r|st)\b": "certain",
    r"\bease (?:the )?throttle\b|\bgets? less far\b": "throttle down; does not get as far",
    r"\d (?:gpm|L/min)(?: \([^)]*\))? leave\b": "an amount leaves",
}

#: Uses of a pattern's words that are right, by what is near them.
ALLOWED = (
    "Hagen-Poiseuille", "Darcy f", "m2/s", "e+09 Pa", "1e-07 %",  # the evidence, as its sources print it
    "Re 1e+06", 'rated_flow = "', "Area of a stream", "somebody who", "take my",
    "Screw", "screws", "screwdriver", "In Britain", "in Britain", "pressure off to", "tenths of a", "5/8 in",
    "Never hold a running nozzle over",
)  # fmt: skip
CODE_WORDS = re.compile(r"\"([^\"\n]*)\"|'([^'\n]*)'")


def found_in(texts):
    """What a list of texts has of the habits, each with its line."""
    return [
        f"{match[0]!r}: write {instead}: …{line[max(match.start() - 60, 0) : match.end() + 40].strip()}"
        for pattern, instead in PATTERNS.items()
        for line in texts
        for match in [pattern.search(line)]
        if match and not any(each in line[max(match.start() - 40, 0) : match.end() + 40] for each in ALLOWED)
    ]


PATTERNS = {re.compile(pattern, re.IGNORECASE): instead for pattern, instead in HABITS.items()}


def bare(markup):
    """The lines of words in HTML, SVG or markdown, formulas, code and links left out."""
    text = re.sub(r"<(style|script|title|defs).*?</\1>|data:[^\"')\s]*", " ", markup, flags=re.DOTALL)
    text = re.sub(r"\$\$.*?\$\$|\$[^$\n]*\$|`[^`\n]*`|\]\([^)]*\)", " ", text, flags=re.DOTALL)
    return [line for line in html.unescape(re.sub(r"<[^>]+>", "\n", text)).splitlines() if " " in line.strip()]


def shown(notebook):
    """What a reader sees of a page: markdown, strings of its code, and stored outputs."""
    texts = []
    for cell in notebook.cells:
        if cell.cell_type == "markdown":
            texts += bare(cell.source)
            continue
        texts += [cell.source.splitlines()[0], *("".join(found) for found in CODE_WORDS.findall(cell.source))]
        for output in cell.outputs:
            data = output.get("data", {"text/plain": output.get("text", "")})
            texts += bare(str(data.get("text/plain", ""))) + bare(str(data.get("text/html", "")))
    return [text for text in texts if " " in text]


@pytest.mark.parametrize("stem", NOTEBOOKS)
def test_a_page_has_none_of_the_habits(stem):
    assert found_in(shown(NOTEBOOKS[stem])) == []


@pytest.mark.parametrize("lesson", registry.lessons())
def test_no_variant_of_an_exercise_has_any(lesson):
    """Question, hints, solution and what is said of each mistake, for three seeds in both systems."""
    texts = []
    for exercise in registry.exercises(lesson):
        for seed in (1, 2, 3):
            variant = exercise.variant(seed)
            for system in SYSTEMS:
                texts += [variant.question(system), variant.solution(system), variant.answer_words(system)]
                texts += [variant.hint(number, system) for number in (1, 2)]
                assert re.search(r"[.?!:)][*_]*$", texts[-5].splitlines()[0].strip()), texts[-5]
                texts += [variant.check(reply, system).words for _, reply in variant.wrong_replies(system)]
    for asked in registry.predictions(lesson):
        texts += [asked.question(system) for system in SYSTEMS] + [asked.reason(system) for system in SYSTEMS]
    assert found_in([line for text in texts for line in bare(text)]) == []


def test_no_callout_says_any():
    texts = [
        line for path in sorted((DATA / "callouts").glob("*.toml")) for line in path.read_text("utf-8").splitlines()
    ]
    assert len(texts) > 800
    assert found_in(texts) == []


def on_screen(but=()):
    """The words of every widget that now exists: labels, choices, hints, what HTML shows. but: ids to leave out."""
    texts = []
    for widget in [widget for name, widget in _instances.items() if name not in but]:
        for name in ("description", "placeholder", "description_tooltip", "tooltip", "value"):
            told = getattr(widget, name, "")
            texts += bare(told) if isinstance(told, str) else []
        texts += [str(each) for each in getattr(widget, "_options_labels", ()) or ()]
    return texts


@pytest.mark.parametrize("system", SYSTEMS)
def test_no_console_says_any(system, tmp_path, monkeypatch):
    monkeypatch.setenv("JETLIB_HOME", str(tmp_path))
    told, before = [], set(_instances)  # other tests leave widgets with words that no page shows
    for record in CONSOLES.values():
        made = record.maker()(**({} if record.name in ("open_bench", "class_progress") else {"system": system}))
        tabs = getattr(made, "_tabs", None)  # the bench makes its pages when they are opened
        for at in range(1 if tabs is None else len(tabs.options)):
            if tabs is not None:
                tabs.index = at
            told += bare(str(getattr(getattr(made, "picture", None), "words", "")))
        told += [text for setting in record.settings.values() for text in (setting.label, *setting.options)]
    assert len(told) > 300
    assert found_in(told + on_screen(but=before)) == []


def refused():
    """What a page says of things that cannot be: one of every kind of entry, junk, out of range, another unit."""
    kinds = ("flow", "pressure", "length", "hose_bore", "jet_bore", "temperature", "power", "force", "volume", "time",
             "speed", "fraction", "slope", "angle", "altitude", "coil_diameter", "mass", "duration")  # fmt: skip
    for kind in kinds:
        for typed in ("", "abc", "1e99", "-3", "12 furlong", "5 psi", "5 gpm", "1/0"):
            try:
                si(typed, kind)
            except JetlibError as error:
                yield from (page_words(error, system) for system in SYSTEMS)
    for call in (
        lambda: demo_rig("nobody"), lambda: jetlib.Pump("0 gpm"), lambda: jetlib.Hose("1/2 in", "-3 ft"),
        lambda: jetlib.Jet("9 ft"), lambda: jetlib.Unloader("3 psi"), lambda: jetlib.operating_point("rig"),
        lambda: jetlib.Nozzle([]), lambda: jetlib.matched_jets(demo_rig("yard_cart").replace(valve=None)),
    ):  # fmt: skip
        try:
            call()
        except JetlibError as error:
            yield from (page_words(error, system) for system in SYSTEMS)


def test_no_refusal_says_any():
    told = list(refused())
    assert len(told) > 150
    assert found_in(told) == []


@cache
def printed():
    """Every kind of sheet once, as lines of words."""
    documents = [answer_key(lesson) for lesson in ("03", "08")]
    documents += [handout("05"), *hidden_fault_sheets(demo_rig("yard_trailer"))]
    documents += [gauge_card(demo_rig("yard_truck")), rig_tables(demo_rig("yard_trailer"))]
    plans = [yard_plan(), yard_plan("yard_small_bore", run=3.0), yard_plan("yard_truck", stiff=0.4)]
    documents += [job_card(plan, system=system) for plan in plans for system in SYSTEMS]
    for lesson, system in zip(registry.lessons(), SYSTEMS * 6, strict=False):
        documents += seat_sheets(lesson, 2, seed=3, system=system)
    documents += assessment_sheets(2, seed=5)
    return [line for document in documents for line in bare(document.html())]


def test_no_sheet_of_paper_says_any():
    assert found_in(printed()) == []


def test_no_job_card_on_the_screen_says_any():
    cards = [on_a_card(yard_plan(**given)) for given in ({}, {"leader": "light"}, {"stiff": 0.3})]
    assert found_in([line for card in cards for line in (*bare(card._repr_html_()), *repr(card).splitlines())]) == []


@pytest.mark.parametrize("stem", [stem for stem in NOTEBOOKS if "00" < stem[:2] < "12"])
def test_a_lesson_keeps_its_promises(stem):
    """It answers its opening question before the key points, asks the promises again, and links the cautions."""
    text = "\n".join(cell.source for cell in NOTEBOOKS[stem].cells if cell.cell_type == "markdown")
    order = [text.index(f"## {name}") for name in (
        "You will be able to", "A question from the trade", "Worked example", "Practice",
        "On the machine", "The question answered", "Key points", "Can you now do it?", "Go deeper",
        "Sources")]  # fmt: skip
    assert order == sorted(order)
    answer = text[order[5] : order[6]]
    assert re.search(r"\d", answer)
    assert "00_start_here.ipynb#Standing-cautions" in text[order[4] : order[5]]
    assert "**Caution." in text[order[4] : order[5]]
    assert "second person" in text[order[4] : order[5]]
    assert text[order[7] : order[8]].count("?") >= text[order[0] : order[1]].count("\n1. ") + 2


def test_a_habit_is_found_and_plain_words_pass():
    bad = (
        "The hose takes 250 psi of it.",
        "the gauge stands at 2800 psi",
        "water goes home",
        "say beforehand what",
        "rev counter",
    )
    good = (
        "The hose loses 250 psi.",
        "the gauge reads 2800 psi",
        "Leaving spare hose at the yard",
        "Take the nozzle off.",
    )
    hit = [any(re.search(habit, line, re.IGNORECASE) for habit in HABITS) for line in (*bad, *good)]
    assert hit == [True] * len(bad) + [False] * len(good)
