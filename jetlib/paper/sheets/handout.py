"""The handout of a lesson: its prose and stored figures, blank predictions, its exercises with room to write."""

import re

from jetlib.course.banks import registry as bank
from jetlib.paper.page.document import CAUTIONS, Document, Section, require
from jetlib.paper.page.prose import cleaned, prose
from jetlib.paper.page.style import caution, fill
from jetlib.paper.sheets.lesson import exercises_in_order, page_of, pieces
from jetlib.paper.sheets.questions import asked, guessed

_STORED = "US"  # the unit system in which lessons store their pictures
_TITLE = re.compile(r"\A.*?^# [^\n]*\n", re.S | re.M)


def handout(lesson, *, seed=1, system="US", paper="A4"):
    """The Document of a lesson such as "02".

    seed: of the numbers in its exercises; the same seed in `answer_key` gives the key that goes with it.
    """
    require(system, paper)
    page = page_of(lesson)
    order = {exercise.id: number for number, exercise in enumerate(exercises_in_order(lesson), start=1)}
    left = dict(order)
    parts = [caution(*CAUTIONS), fill("room", asked="Name", lines=0)]
    for number, piece in enumerate(pieces(lesson)):
        if piece.kind == "prose":
            parts.append(prose(_TITLE.sub("", piece.content) if number == 0 else piece.content))
        elif piece.kind == "figure":
            parts.append(_figure(piece, system))
        elif piece.kind == "prediction":
            parts.append(guessed(bank.prediction(piece.content), system))
        elif left.pop(piece.content, None) is not None:
            parts.append(_question(piece.content, order, seed, system))
    if left:
        parts.append("<h2>More practice</h2>")
        parts += [_question(name, order, seed, system) for name in left]
    else:
        parts[-1] = _closing(parts[-1])
    source = (
        f"lesson {page.number} and its question bank, calculated by jetlib; pictures as the lesson first shows them"
    )
    title = f"Lesson {page.number}: {page.title}"
    lead = f"Handout, about {page.minutes} minutes. The sliders, buttons and fields in the text are on the screen."
    section = Section(title, "\n".join(parts), source, seed, lead)
    return Document(f"handout-{page.number}-seed-{seed}-{system.lower()}", (section,), system, paper)


def _closing(html):
    """The last prose with its last heading and what stands under it held together, so that no page has a line alone."""
    before, heading, last = html.rpartition("<h2>")
    return f'{before}<div class="together">{heading}{last}</div>' if heading and "<table" not in last else html


def _figure(piece, system):
    anew = piece.drawing is not None and system != _STORED
    html = piece.drawing.html(system) if anew else piece.content
    return fill("figure", caption=piece.caption, content=cleaned(html))


def _question(name, order, seed, system):
    return asked(order[name], bank.exercise(name).variant(seed), system)
