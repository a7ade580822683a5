"""Two exercises that every lesson has: the trade's word for a thing, and which ways of working are safe."""

from jetlib.course.exercises.choosing import MultipleChoice, SingleChoice
from jetlib.course.exercises.exercise import Mistake
from jetlib.course.exercises.words import sentence
from jetlib.course.store.checked_row import known, rows, words
from jetlib.errors import JetlibError

_OTHERS = 2  # words offered besides the right one and the one it is mixed up with


def _read(said, name, *fields):
    """The rows of a list of an exercise: the texts of these fields, each on one line."""
    for at, row in enumerate(rows(said.row, name, said.where), start=1):
        where = f"{said.where}, {name.removesuffix('s')} {at}"
        known(row, fields, where)
        yield tuple(" ".join(words(row, field, where, needed=True).split()) for field in fields)


def terms(said):
    """A SingleChoice: a meaning is given, and its word is to be found. terms: {word, means, near} each.

    near: the word it is mixed up with. A meaning must not hold its own word.
    """
    terms = {word: (meaning, near) for word, meaning, near in _read(said, "terms", "word", "means", "near")}
    strangers = [near for _, near in terms.values() if near not in terms]
    if strangers:
        raise JetlibError(f"{said.id}: {strangers[0]!r} has no line of its own among the terms; write one")
    if len(terms) < _OTHERS + 2:
        raise JetlibError(f"{said.id}: {len(terms)} terms are too few to choose among; write {_OTHERS + 2} or more")

    def draw(rng):
        asked = rng.choice(tuple(terms))
        near = terms[asked][1]
        others = rng.sample([word for word in terms if word not in (asked, near)], _OTHERS)
        return {"asked": asked, "near": near, "offered": tuple(sorted((asked, near, *others)))}

    def told(word):
        return f"{sentence(word)[:-1]}: {terms[word][0]}."

    return SingleChoice(
        id=said.id,
        title=words(said.row, "title", said.where) or "What is it called?",
        skills=("trade terms",),
        draw=draw,
        ask=lambda p, show: f"What does the trade call this?\n\n{sentence(terms[p['asked']][0])}",
        options=lambda p: tuple((word, word) for word in p["offered"]),
        answer=lambda p: p["asked"],
        mistakes=(
            Mistake(
                "mixed up with its neighbor",
                lambda p, show: f"These two are easily mixed up. The word you chose means: {terms[p['near']][0]}.",
                lambda p: p["near"],
            ),
        ),
        hints=(
            "Say in your own words what each of the words offered means. Which one fits?",
            "Two of the words are close to each other. Look for the one detail in which they differ.",
        ),
        solution=lambda p, show: f"{told(p['asked'])}\n\nEasily mixed up with it:\n\n{told(p['near'])}",
    )


def unsafe_name(key):
    """What the mistake is called of whoever takes the unsafe way with this key for safe."""
    return f"{key} taken as safe"


def safe(said):
    """A MultipleChoice of ways to work: those that are safe are to be marked. Two safe and two unsafe ones are offered.

    safe: {key, do} each; unsafe: {key, do, why} each.
    """
    safe = dict(_read(said, "safe", "key", "do"))
    unsafe = {key: (told, why) for key, told, why in _read(said, "unsafe", "key", "do", "why")}
    if min(len(safe), len(unsafe)) < 2:
        raise JetlibError(f"{said.id}: {len(safe)} safe ways and {len(unsafe)} unsafe ones; write two or more of each")

    def draw(rng):
        return {"safe": tuple(rng.sample(tuple(safe), 2)), "unsafe": tuple(rng.sample(tuple(unsafe), 2))}

    def ticked_too(key):
        return lambda p: (*p["safe"], key) if key in p["unsafe"] else None

    ways = safe | {key: told for key, (told, _) in unsafe.items()}
    return MultipleChoice(
        id=said.id,
        title=words(said.row, "title", said.where) or "Which of these are safe?",
        skills=("safe working",),
        draw=draw,
        ask=said.field("ask", needed=True),
        options=lambda p: tuple((key, ways[key]) for key in (*p["safe"], *p["unsafe"])),
        answer=lambda p: p["safe"],
        mistakes=tuple(Mistake(unsafe_name(key), f"{why}.", ticked_too(key)) for key, (_, why) in unsafe.items()),
        hints=(
            "For each one, ask: where is the energy, and who is in its way if something slips, plugs or breaks?",
            "Would you still do it with your own hand, eye or foot in the path of the water?",
        ),
        solution=lambda p, show: "\n".join((
            "Safe:",
            *(f"- {safe[key]}." for key in p["safe"]),
            "\nNot safe:",
            *(f"- {unsafe[key][0]}. {unsafe[key][1]}." for key in p["unsafe"]),
            "\nThe machine's manual and your local rules come first.",
        )),
    )  # fmt: skip
