"""A lesson's notebook as a sheet needs it, nothing run: its prose, its exercises in their order, and its worksheet."""

import re

import nbformat

from jetlib.course.banks import registry as bank
from jetlib.course.pages import contents
from jetlib.errors import JetlibError
from jetlib.paper.page.document import INJECTION, MANUAL, Document, Section, require
from jetlib.paper.page.style import fill
from jetlib.paper.sheets.questions import asked, guessed
from jetlib.units.refusal import cut

_PREDICTIONS, _EXERCISES = 2, 4  # at most
_TALL = 400.0  # mm: what two pages of any paper but A5 hold


def page_of(lesson):
    """The contents' Page of a lesson such as "02". JetlibError that lists them if there is none."""
    known = {page.number: page for page in contents.lessons()}
    if lesson not in known:
        raise JetlibError(f"lesson is {cut(lesson)}; write one of {', '.join(known)}")
    return known[lesson]


def cells(lesson, kind):
    """The text of each cell of a kind ("markdown" or "code") of a lesson's notebook as it is stored, a list."""
    path = contents.LESSONS / f"{page_of(lesson).stem}.ipynb"
    try:
        notebook = nbformat.read(path, as_version=4)
    except (OSError, ValueError, nbformat.reader.NotJSONError, nbformat.ValidationError) as error:
        raise JetlibError(f"{path.name} cannot be read as a notebook ({cut(str(error))}); fetch it anew") from None
    return [cell.source for cell in notebook.cells if cell.cell_type == kind]


def exercises_in_order(lesson):
    """The lesson's exercises as its notebook offers them, then others of its bank and a trainer's own; each once."""
    held = {each.id: each for each in (bank.exercises(lesson, own=True) if lesson in bank.lessons() else ())}
    offered = re.findall(r'\bpractice\("([^"]+)"', "\n".join(cells(lesson, "code")))
    return tuple(held[name] for name in dict.fromkeys([*offered, *held]) if name in held)


def handout(lesson, *, seed=1, system="US", paper="A4"):
    """The Document of a lesson such as "02", two pages: guesses to write down, exercises with room to work, no answers.

    seed: of the numbers in its exercises; the same seed in `answer_key` gives the key that goes with it.
    """
    require(system, paper)
    page = page_of(lesson)
    predictions = bank.predictions(lesson)[:_PREDICTIONS] if lesson in bank.lessons() else ()
    parts = [fill("caution", lines=(f"{INJECTION} {MANUAL}",))]
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
