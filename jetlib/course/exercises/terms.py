"""Two exercises that every lesson has: the trade's word for a thing, and which ways of working are safe."""

from jetlib.course.exercises.choosing import MultipleChoice, SingleChoice
from jetlib.course.exercises.exercise import Mistake
from jetlib.course.exercises.words import sentence

_OTHERS = 2  # words offered besides the right one and the one it is mixed up with


def name_it(id, terms, *, title="What is it called?"):
    """A SingleChoice: a meaning is read out, its word is to be found.

    terms: key -> (word, meaning, key of the word it is mixed up with). A meaning must not hold its own word.
    """

    def draw(rng):
        asked = rng.choice(tuple(terms))
        near = terms[asked][2]
        others = rng.sample([key for key in terms if key not in (asked, near)], _OTHERS)
        return {"asked": asked, "near": near, "offered": tuple(sorted((asked, near, *others)))}

    def said(key):
        return f"{terms[key][0]}: {terms[key][1]}"

    return SingleChoice(
        id=id,
        title=title,
        skills=("trade terms",),
        draw=draw,
        ask=lambda p, show: f"What does the trade call this?\n\n{sentence(terms[p['asked']][1])}",
        options=lambda p: tuple((key, terms[key][0]) for key in p["offered"]),
        answer=lambda p: p["asked"],
        mistakes=(
            Mistake(
                "mixed up with its neighbor",
                lambda p, show: f"These two are easily mixed up. The word you chose means: {terms[p['near']][1]}.",
                lambda p: p["near"],
            ),
        ),
        hints=(
            "Say in your own words what each of the words offered means. Which one fits?",
            "Two of the words are near to each other. Look for the one detail in which they differ.",
        ),
        solution=lambda p, show: f"{said(p['asked'])}.\n\nEasily mixed up with it: {said(p['near'])}.",
    )


def safe_ways(id, ask, *, safe, unsafe, title="Which of these are safe?", rule=""):
    """A MultipleChoice of ways to work: those that are safe are to be ticked.

    safe: key -> words. unsafe: key -> (words, why not). Two of each are offered. rule: what the solution ends with.
    """

    def draw(rng):
        return {"safe": tuple(rng.sample(tuple(safe), 2)), "unsafe": tuple(rng.sample(tuple(unsafe), 2))}

    def ticked_too(key):
        return lambda p: (*p["safe"], key) if key in p["unsafe"] else None

    words = safe | {key: told for key, (told, _) in unsafe.items()}
    return MultipleChoice(
        id=id,
        title=title,
        skills=("safe working",),
        draw=draw,
        ask=ask,
        options=lambda p: tuple((key, words[key]) for key in (*p["safe"], *p["unsafe"])),
        answer=lambda p: p["safe"],
        mistakes=tuple(Mistake(f"{key} taken as safe", why, ticked_too(key)) for key, (_, why) in unsafe.items()),
        hints=(
            "For each one, ask: where is the energy, and who is in its way if something slips, plugs or breaks?",
            "Would you still do it with your own hand, eye or foot in the path of the water?",
        ),
        solution=lambda p, show: "\n\n".join(
            part
            for part in (
                "Safe:\n" + "\n".join(f"- {safe[key]}" for key in p["safe"]),
                "Not safe:\n" + "\n".join(f"- {unsafe[key][0]}. {unsafe[key][1]}" for key in p["unsafe"]),
                rule,
                "The machine's manual and your local rules come first.",
            )
            if part
        ),
    )
