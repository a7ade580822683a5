"""The worksheet of a lesson, two pages: guesses to write down before the lesson, and exercises with room to work."""

from jetlib.course.banks import registry as bank
from jetlib.paper.page.document import INJECTION, MANUAL, Document, Section, require
from jetlib.paper.page.style import caution
from jetlib.paper.sheets.lesson import exercises_in_order, page_of
from jetlib.paper.sheets.questions import asked, guessed

_PREDICTIONS, _EXERCISES = 2, 4  # at most
_TALL = 400.0  # mm: what two pages of any paper but A5 hold


def handout(lesson, *, seed=1, system="US", paper="A4"):
    """The Document of a lesson such as "02": its first predictions and exercises, without an answer to either.

    seed: of the numbers in its exercises; the same seed in `answer_key` gives the key that goes with it.
    """
    require(system, paper)
    page = page_of(lesson)
    predictions = bank.predictions(lesson)[:_PREDICTIONS] if lesson in bank.lessons() else ()
    parts = [caution(f"{INJECTION} {MANUAL}")]
    parts += [guessed(each, system) for each in predictions]
    for number, each in enumerate(exercises_in_order(lesson)[:_EXERCISES], start=1):
        question = asked(number, each.variant(seed), system)
        if sum(map(_height, [*parts, question])) > _TALL:
            break  # not one further on: the key counts them in the same order
        parts.append(question)
    title = f"Lesson {page.number}: {page.title}"
    source = f"lesson {page.number}'s question bank, worked out by jetlib's formulas"
    lead = f"Afterward you can {page.can}. Write your guesses down first; nothing on this sheet gives them away."
    section = Section(title, "\n".join(parts), source, seed, lead, card=True, named=True)
    return Document(f"handout-{page.number}-seed-{seed}-{system.lower()}", (section,), system, paper)


def _height(html):
    """About how tall it prints, mm: paragraphs, options, rows of a table, lines to write on, axes to draw on."""
    tall = {"<p": 6.0, "<li": 5.5, "<tr": 6.5, 'class="line"': 8.0, "<svg": 75.0}
    return 10.0 + sum(each * html.count(mark) for mark, each in tall.items())
