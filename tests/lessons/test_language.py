"""The lessons speak plain US English, the trade's own words, one word for one thing.

Held over the text of the lessons and the glossary, and over the words in their code cells' strings. Each habit is a
pattern with what to write instead: a native technical editor would rewrite it, or a reader could take it two ways.
"""

import re

import nbformat
import pytest

from jetlib.course.pages.contents import LESSONS

NAMES = [*sorted(LESSONS.glob("[0-9][0-9]_*.ipynb")), LESSONS / "glossary.ipynb"]
NOTEBOOKS = {path.stem: nbformat.read(path, 4) for path in NAMES}

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
    r"\b3\.28 ft\b|\b0\.656\b|\b0\.394\b|e\+\d\d": "numbers as people say them",
    r"\bMore \w+ it (?:brings|gives)\b": "subject, verb, object",
    r"\b(?:may|might) not be run\b|\bis leave to\b": "must not; authorizes",
}
CODE_WORDS = re.compile(r"\"([^\"\n]*)\"|'([^'\n]*)'")


def shown(notebook):
    """What a reader sees of a page's own text: markdown without formulas and links, and the strings of its code."""
    texts = []
    for cell in notebook.cells:
        if cell.cell_type == "markdown":
            text = re.sub(r"\$\$.*?\$\$|\$[^$\n]*\$|`[^`\n]*`|\]\([^)]*\)|<[^>]+>", " ", cell.source, flags=re.DOTALL)
            texts += text.splitlines()
        else:
            texts += [cell.source.splitlines()[0], *("".join(found) for found in CODE_WORDS.findall(cell.source))]
    return [text for text in texts if " " in text and "in Britain" not in text.replace("In B", "in B")]  # UK synonyms


@pytest.mark.parametrize("stem", NOTEBOOKS)
def test_a_page_has_none_of_the_habits(stem):
    lines = shown(NOTEBOOKS[stem])
    found = [
        f"{match[0]!r}: write {instead}: {line.strip()[:90]}"
        for pattern, instead in HABITS.items()
        for line in lines
        for match in [re.search(pattern, line, re.IGNORECASE)]
        if match
    ]
    assert found == []


@pytest.mark.parametrize("stem", [stem for stem in NOTEBOOKS if "00" < stem[:2] < "99"])
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
