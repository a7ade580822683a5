"""How hard a lesson is to read, how long it is, and whether its minutes are honest.

How it is measured. *Prose* is what the text cells hold without headings, tables, formulas, code, links' addresses and
the bar at the top; each paragraph and each item of a list ends a sentence. Reading ease is Flesch's (*J. Appl.
Psychol.* 32 (1948) 221): 206.835 - 1.015 words a sentence - 84.6 syllables a word, with textstat's counts of syllables
from the CMU dictionary; 60 to 70 is what a pupil of 13 to 15 reads with ease.

A lesson has a core and a part to go deeper, from the heading *Go deeper* on; a fold in the core, other than *What you
should have seen*, belongs to the deeper part. The minutes of each are worked out: a minute for 180 words, three for an
exercise, three for a question to a console, two for a prediction; rounded to five. They stand in the table of
contents and on the page. 180 words a minute is plain English read aloud (Brysbaert, *J. Mem. Lang.* 109 (2019) 104047;
from memory); three and two minutes are *common practice, no source*: tried on the pages, not on readers.
"""

import re

import nbformat
import pytest
import textstat

from jetlib.course.pages.contents import LESSONS, page

NOTEBOOKS = {path.stem: nbformat.read(path, 4) for path in sorted(LESSONS.glob("[0-9][0-9]_*.ipynb"))}
each_lesson = pytest.mark.parametrize("stem", NOTEBOOKS)


def prose(markdown):
    """The sentences of a text cell."""
    text = re.sub(r"```.*?```|\$\$.*?\$\$|<[^>]+>", " ", markdown, flags=re.DOTALL)
    text = re.sub(r"\$[^$]*\$|`[^`]*`", "it", text)
    text = re.sub(r"!?\[([^\]]*)\]\([^)]*\)", r"\1", text)
    blocks, block = [], []
    for line in text.splitlines():
        line = line.strip().lstrip(">").strip()
        begins = re.match(r"(?:[-*]|\d+\.)\s+", line)
        if not line or begins or line[0] in "|#":
            blocks.append(" ".join(block))
            block = []
        if line and line[0] not in "|#" and not line.startswith("◀") and " · " not in line:
            block.append(line[begins.end() :] if begins else line)
    blocks.append(" ".join(block))
    ended = (re.sub(r"[*_]", "", each).strip().rstrip(";:,") for each in blocks)
    return "\n".join(each if each.endswith((".", "!", "?")) else f"{each}." for each in ended if each)


def ease(text):
    """Flesch reading ease. The point in a number ends no sentence."""
    return textstat.flesch_reading_ease(re.sub(r"(?<=\d)[.,/](?=\d)", "", text))


def text_of(stem):
    return "\n".join(prose(cell.source) for cell in NOTEBOOKS[stem].cells if cell.cell_type == "markdown")


def words(text):
    return len(re.findall(r"[^\W_][\w'’.,/°%-]*", text))


FOLD = re.compile(r"<details>\s*<summary>(.*?)</summary>(.*?)</details>", re.DOTALL)
SEEN = "What you should have seen"
CONSOLE = re.compile(r"^\w+_console\(", re.MULTILINE)


def questions(markdown):
    """The numbered items of a text cell, outside its folds."""
    return re.findall(r"^\d+\. .*", FOLD.sub("", markdown), re.MULTILINE)


def times(stem):
    """Minutes of the core and of the deeper part, worked out by the rates above."""
    core, deeper, here, text = 0.0, 0.0, 0.0, ""
    for cell in NOTEBOOKS[stem].cells:
        if cell.cell_type == "markdown":
            if cell.source.startswith("## Go deeper"):
                core, here = here, 0.0
            folds = "".join(body for name, body in FOLD.findall(cell.source) if SEEN not in name)
            deeper += words(prose(folds)) / 180
            here += words(prose(FOLD.sub(lambda fold: fold[2] if SEEN in fold[1] else "", cell.source))) / 180
            here += 3 * len(questions(cell.source)) * (SEEN in cell.source)
            text = cell.source
        else:
            here += 3 * len(re.findall(r"^practice\(", cell.source, re.MULTILINE))
            here += 2 * len(re.findall(r"^prediction\(", cell.source, re.MULTILINE))
            here += 3 * len(questions(text)) * len(CONSOLE.findall(cell.source))
    return (core, here + deeper) if core else (here, deeper)


@each_lesson
def test_the_prose_is_easy_to_read(stem):
    assert ease(text_of(stem)) >= 60


@each_lesson
def test_no_cell_is_hard_going(stem):
    """A short cell swings more, and a list of books reads badly: 45 is still plain magazine prose."""
    for cell in NOTEBOOKS[stem].cells:
        text = prose(cell.source) if cell.cell_type == "markdown" and "## Sources" not in cell.source else ""
        if words(text) >= 60:
            assert ease(text) >= 45, text[:80]


@each_lesson
def test_a_lesson_is_neither_thin_nor_endless(stem):
    assert 900 <= words(text_of(stem)) <= 2900


@each_lesson
def test_the_minutes_are_worked_out_and_shown(stem):
    core, deeper = (5 * round(each / 5) for each in times(stem))
    here = page(stem)
    assert (here.minutes, here.deeper) == (core, deeper if here.number > "00" else 0)
    if here.deeper:
        assert f"About {core} minutes for the core, and about {deeper} more to go deeper" in text_of(stem)


@each_lesson
def test_the_core_is_short(stem):
    """One story, a prediction or two, one console, three exercises and the key points: under half an hour."""
    assert times(stem)[0] < 30


@each_lesson
def test_each_console_question_has_its_answer_folded_under_it(stem):
    """The text before a console asks; the text after it answers, item for item."""
    cells = NOTEBOOKS[stem].cells
    for at, cell in enumerate(cells):
        if cell.cell_type == "code" and CONSOLE.search(cell.source):
            asked = questions(cells[at - 1].source)
            fold = dict(FOLD.findall(cells[at + 1].source)).get(SEEN, "")
            assert asked and len(re.findall(r"^\d+\. ", fold, re.MULTILINE)) == len(asked), cell.source[:80]


# --- the measure itself -----------------------------------------------------------------------------


def test_what_counts_as_prose():
    cell = (
        "[◀ Back](a.ipynb) · [On ▶](b.ipynb)\n\n## Heading\n\nThe pump pushes $Q$ **gallons**.\n\n| a | b |\n"
        "|---|---|\n"
        "| not counted | at all |\n\n$$p = \\frac{\\rho}{2}$$\n\n> **Caution.** Keep back.\n\n1. See [this](c.ipynb);\n"
        "2. then go"
    )
    assert prose(cell) == "The pump pushes it gallons.\nCaution. Keep back.\nSee this.\nthen go."


def test_hard_prose_is_found_hard():
    """From the sentence of a standard, and from a primer."""
    hard = (
        "Notwithstanding the aforementioned provisions, the determination of permissible operational parameters shall "
        "necessarily incorporate consideration of all applicable hydraulic characteristics."
    )
    assert ease(hard) < 20
    assert ease("The cat sat on the mat. It was a hot day. The dog ran to the man.") > 100
    assert ease("It takes 0.5 to 1.5 psi.") == ease("It takes 05 to 15 psi.")


def test_flesch_is_worked_out_as_flesch_did():
    """Seven one-syllable words in one sentence: 206.835 - 1.015 x 7 - 84.6 (Flesch 1948, as reprinted everywhere)."""
    assert ease("The cat sat on the flat mat.") == pytest.approx(206.835 - 1.015 * 7 - 84.6, abs=0.01)
