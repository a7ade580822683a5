"""How hard a lesson is to read, how long it is, and whether its minutes are honest.

How it is measured. *Prose* is what the text cells hold without headings, tables, formulas, code, links' addresses and
the bar at the top; each paragraph and each item of a list ends a sentence. Reading ease is Flesch's (*J. Appl.
Psychol.* 32 (1948) 221): 206.835 - 1.015 words a sentence - 84.6 syllables a word, with textstat's counts of syllables
from the CMU dictionary; 60 to 70 is what a pupil of 13 to 15 reads with ease.

A lesson's minutes are those of a slow careful reader: a minute for 150 words of prose, two for each exercise, three
for each console with its questions; rounded to five. They stand in the table of contents and may be five off, because
tables and formulas are read too, some of them slowly. People read plain English at about 240 words a minute silently
and 180 aloud (Brysbaert, *J. Mem. Lang.* 109 (2019) 104047; figures from memory); 150 leaves time to look at the
pictures. Two and three minutes are *common practice, no source*: tried on the pages, not on readers.
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


def count(stem, pattern):
    code = "\n".join(cell.source for cell in NOTEBOOKS[stem].cells if cell.cell_type == "code")
    return len(re.findall(pattern, code, re.MULTILINE))


def minutes(stem):
    exercises, consoles = count(stem, r"^practice\("), count(stem, r"^\w+_console\(")
    return words(text_of(stem)) / 150 + 2 * exercises + 3 * consoles


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
    assert 900 <= words(text_of(stem)) <= 2200


@each_lesson
def test_the_minutes_are_those_of_a_timed_reading(stem):
    assert abs(page(stem).minutes - 5 * round(minutes(stem) / 5)) <= 5


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
