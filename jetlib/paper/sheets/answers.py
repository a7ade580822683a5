"""Answer keys: of one seed with everything worked, and of a room in which each seat has numbers of its own."""

import re

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.assessment import assessment_exercises, letters_of
from jetlib.errors import JetlibError
from jetlib.paper.page.document import CAUTIONS, INJECTION, MANUAL, Document, Section, require
from jetlib.paper.page.prose import prose
from jetlib.paper.page.style import fill
from jetlib.paper.sheets.lesson import cells, exercises_in_order, page_of
from jetlib.paper.sheets.questions import asked, keyed, mistake_rows, prediction_rows, right_words
from jetlib.units.refusal import cut

MOST_SEATS = 60
_SEEN = re.compile(r"<summary>What you should have seen</summary>(.*?)</details>", re.DOTALL)
_FOLD = re.compile(r"<details>.*?</details>", re.DOTALL)
_SOURCE = "lesson {}'s question bank, calculated by jetlib"


def answer_key(lesson, *, seed=1, system="US", paper="A4", only=None):
    """The Document with answers, worked solutions and the mistake behind each wrong answer, for one seed.

    only: ids of the exercises wanted; all unless given, and then the lesson's predictions too.
    """
    require(system, paper)
    page, chosen = page_of(lesson), _chosen(lesson, only)
    predictions, seen = (), ()
    if only is None:
        predictions = bank.predictions(lesson) if lesson in bank.lessons() else ()
        seen = _seen_on_consoles(lesson)
    keyed_all = [keyed(number, each.variant(seed), system) for number, each in enumerate(chosen, start=1)]
    body = fill("answers", cautions=CAUTIONS, predictions=prediction_rows(predictions, system), seen=seen,
                keyed=keyed_all)  # fmt: skip
    title = f"Answer key, lesson {page.number}: {page.title}"
    lead = f"For sheets and handouts of seed {seed} in {system} units. For the trainer."
    section = Section(title, body, _SOURCE.format(page.number), seed, lead)
    return Document(f"key-{page.number}-seed-{seed}-{system.lower()}", (section,), system, paper)


def _seen_on_consoles(lesson):
    """The questions to each console of a lesson, each with what should have been seen, as pieces of HTML."""
    parts, before = [], ""
    for words in cells(lesson, "markdown"):
        if folded := _SEEN.search(words):
            asked_here = _items(_FOLD.sub("", words[: folded.start()]))
            both = zip(asked_here or _items(_FOLD.sub("", before)), _items(folded[1]), strict=True)
            parts.append(prose("\n".join(f"1. {question}<br>**Seen:** {answer}" for question, answer in both)))
        before = words
    return parts


def _items(markdown):
    """The numbered items of a text, each as one line."""
    found = re.findall(r"^\d+\. (.*(?:\n(?!\d+\. |\n).*)*)", markdown, re.MULTILINE)
    return [" ".join(item.split()) for item in found]


def seat_sheets(lesson, seats, *, seed=1, system="US", paper="A4", only=None):
    """(sheets, key): a Document with a sheet for each of `seats`, no two alike, and the Document that answers them all.

    Seat 1 has `seed`, each next one the next whole number that gives a sheet unlike those before. only: ids of the
    exercises wanted. Raises JetlibError if there are not so many different sheets.
    """
    page, chosen = page_of(lesson), _chosen(lesson, only)
    name = f"seats-{page.number}-seed-{seed}-{system.lower()}"
    title, source = f"Lesson {page.number}: {page.title}", _SOURCE.format(page.number)
    lead = "For the full working of one seat, print the answer key of that seat's seed."
    return _for_seats(chosen, seats, seed, system, paper, title, source, name, lead)


def assessment_sheets(seats, *, seed=1, system="US", paper="A4"):
    """(sheets, key): the final assessment that `seed` draws, with numbers for each seat, and the key to all of them.

    On the key are the letters by which the trainer's marks are typed in. Raises JetlibError.
    """
    name = f"assessment-seed-{seed}-{system.lower()}"
    source = "the question banks of all lessons, calculated by jetlib"
    lead = (
        f"Type the marks in under How the class is doing, with {seed} as the first seed, a seat at a time: "
        "seat 3: r r m1 w - r, and so on. r is right, w wrong, m1 the mistake M1 below, - nothing written."
    )
    chosen, title = assessment_exercises(seed), "Final assessment"
    return _for_seats(chosen, seats, seed, system, paper, title, source, name, lead, card=True)


def _for_seats(chosen, seats, seed, system, paper, title, source, name, lead, *, card=False):
    """(sheets, key) of the exercises chosen. lead: what stands above the key; card: sheets set close."""
    require(system, paper)
    dealt = _dealt(chosen, checked_seats(seats), seed, system)
    sheets = []
    for seat, (own_seed, variants) in enumerate(dealt, start=1):
        questions = (asked(at, each, system, most_lines=3 if card else 5) for at, each in enumerate(variants, start=1))
        body = fill("caution", lines=(f"{INJECTION} {MANUAL}",)) + "\n".join(questions)
        sheets.append(Section(f"Seat {seat}. {title}", body, source, own_seed, card=card, named=True))
    key = Section(
        f"Key to {seats} sheets. {title}",
        fill("caution", lines=CAUTIONS) + "\n".join(_across(number, dealt, system) for number in range(len(chosen))),
        source + f"; the seats' own seeds run from {seed} to {dealt[-1][0]}",
        seed,
        f"Seats 1 to {seats}, {system} units. {lead}",
    )
    return Document(name, tuple(sheets), system, paper), Document(f"{name}-key", (key,), system, paper)


def checked_seats(seats):
    """The number of seats, a whole one from 1 to MOST_SEATS. Raises JetlibError."""
    if type(seats) is not int or not 1 <= seats <= MOST_SEATS:
        raise JetlibError(f"seats is {cut(seats)}; write a whole number from 1 to {MOST_SEATS}")
    return seats


def _chosen(lesson, only):
    held = {each.id: each for each in exercises_in_order(lesson)}
    if not held:
        raise JetlibError(f"lesson {lesson} has no exercises; write one of {', '.join(bank.lessons())}")
    if only is None:
        return tuple(held.values())
    strangers = [name for name in only if name not in held]
    if strangers or not only:
        raise JetlibError(f"lesson {lesson} has no exercise {cut(strangers)}; write some of {', '.join(held)}")
    return tuple(held[name] for name in dict.fromkeys(only))


def _dealt(chosen, seats, seed, system):
    """(seed, variants) of each seat."""
    found, seen = [], set()
    for own_seed in range(seed, seed + 20 * seats):
        variants = tuple(each.variant(own_seed) for each in chosen)
        looks = tuple(asked(0, each, system).replace(f'data-seed="{each.seed}"', "") for each in variants)
        if looks not in seen:
            seen.add(looks)
            found.append((own_seed, variants))
        if len(found) == seats:
            return found
    raise JetlibError(f"these exercises make only {len(found)} different sheets for {seats} seats; take more exercises")


def _across(number, dealt, system):
    """One exercise over all seats: answers, wrong answers by mistake, and what to say about each."""
    exercise = dealt[0][1][number].exercise
    made = [mistake_rows(variants[number], system) for _, variants in dealt]
    told = {name: words for rows in reversed(made) for _, name, words in rows}  # the first seat's words
    letters = {name: letter for name, letter in letters_of(exercise).items() if name in told}
    rows = []
    for seat, ((own_seed, variants), mistakes) in enumerate(zip(dealt, made, strict=True), start=1):
        wrong = {name: written for written, name, _ in mistakes}
        right = right_words(variants[number], system)
        rows.append((f"{seat}", f"{own_seed}", right, *(wrong.get(name, "–") for name in letters)))
    said = [(letter, name, told[name]) for name, letter in letters.items()]
    return fill("across", exercise=exercise, number=number + 1, letters=[*letters.values()], rows=rows, said=said)
