"""Exercises from TOML that are answered by choosing: one of, several, an order, a term, safe ways."""

import re
from collections.abc import Callable
from itertools import pairwise
from typing import NamedTuple

from jetlib.course.exercises.choosing import MultipleChoice, Ordering, SingleChoice, check_keys
from jetlib.course.exercises.draws import of_letter
from jetlib.course.exercises.exercise import Mistake
from jetlib.course.exercises.words import plain, sentence
from jetlib.course.exercises.worked import step, worked
from jetlib.course.store.checked_row import among, known, rows, words
from jetlib.errors import JetlibError
from jetlib.units import from_si
from jetlib.units.kinds import KINDS
from jetlib.units.refusal import cut

_KEY = re.compile(r"[\w-]+")


def choosing(said, *, several):
    """A SingleChoice, or a MultipleChoice where `several` can be right, of options of which some are `right`.

    right and cautious are true, false or a condition; with `when`, a condition, an option is not always offered. With
    drop_alike a mistake that leads where the answer or another one leads is left out. A mistake `picks` keys; or it
    `adds` to the right ones, `drops` of them, or picks the `opposite`.
    """
    options = _options(said, "right", "cautious")

    def answer(p):
        found = tuple(each.key for each in options if each.when(p) and each.right(p))
        if not found or (len(found) > 1 and not several):
            raise JetlibError(f"{len(found)} options are right; write right = true for {'some' if several else 'one'}")
        return found if several else found[0]

    def made(row, field, where):
        picks = _picks_where(said, row, field, where, options)

        def wrong(p):
            offered = [each.key for each in options if each.when(p)]
            all_keys, now = set(offered), set(answer(p) if several else [answer(p)])
            picked = {key for key, holds in picks if holds(p)} & all_keys
            chosen = {"picks": picked, "adds": now | picked, "drops": now - picked, "opposite": all_keys - now}[field]
            if not chosen or chosen == now:
                return None
            return tuple(key for key in offered if key in chosen) if several else min(chosen)

        return wrong

    common = said.common(made, *(("picks", "adds", "drops", "opposite") if several else ("picks",)))
    common |= {"options": _on_offer(options), "answer": answer, "solution": worked(said.shown, *said.steps)}
    if several:
        return MultipleChoice(**common, cautious=lambda p: [each.key for each in options if each.cautious(p)])
    return SingleChoice(**common)


class _Option(NamedTuple):
    """An option as it is written; when, right, cautious: functions of the parameters that say whether it is so."""

    key: str
    words: str
    when: Callable
    right: Callable
    cautious: Callable


def _options(said, *more):
    """The _Options of an exercise. more: fields that one may have."""
    found = []
    for at, row in enumerate(rows(said.row, "options", said.where), start=1):
        where = f"{said.where}, option {at}"
        known(row, {"key", "words", "when", *more}, where)
        key = words(row, "key", where, needed=True)
        if not _KEY.fullmatch(key.replace(" ", "-")):
            raise JetlibError(f"{where}: key is {cut(key)}; write a short word")
        text = said.named(plain(words(row, "words", where, needed=True)), where)
        holds = (said.holds(row, name, where) for name in ("right", "cautious"))
        found.append(_Option(key, text, said.when(row, where), *holds))
    check_keys([each.key for each in found], said.where)
    return found


def _on_offer(options):
    """The function of the parameters that gives the options as an exercise takes them."""
    return lambda p: tuple((each.key, each.words) for each in options if each.when(p))


def _picks(row, field, where, keys):
    value = row[field]
    if field == "opposite":
        return ()
    found = [value] if isinstance(value, str) else value
    if not isinstance(found, list) or not found or any(each not in keys for each in found):
        raise JetlibError(f"{where}: {field} is {cut(value)}; write keys of options, of {', '.join(keys)}")
    return tuple(found)


def _picks_where(said, row, field, where, options):
    """(key, condition) of each key of a mistake: a list of keys, or a table of key = "condition"."""
    keys = [each.key for each in options]
    if not isinstance(row[field], dict):
        return [(key, lambda p: True) for key in _picks(row, field, where, keys)]
    _picks({field: list(row[field])}, field, where, keys)
    return [(key, said.condition(text, f"{where}, {field}")) for key, text in row[field].items()]


def order(said):
    """An Ordering: of `options` in their right order; or of `items`, one for each letter of `letters`, the lowest `by`
    first.

    items: words such as "{length} of {bore} hose", in which {length} is {length_a} for a, or a table that has words of
    its own for each key; by: a formula in the same way, of the kind `shows`. total: arithmetic for the lines of the
    solution, as a solve line. Not offered: two items nearer than the factor `apart`, or one above `most`. A mistake is
    `reversed`, `rotated` (the first put last), `swaps` two keys, `picks` an order, or goes `by` another formula.
    """
    return _ranked(said) if "items" in said.row else _listed(said)


def _listed(said):
    options = _options(said)
    on_offer = _on_offer(options)

    def right(p):
        return tuple(key for key, _ in on_offer(p))

    def in_order(p):
        """The steps of an order that is not always the same, numbered."""
        varies = any("when" in row for row in said.row["options"])
        return [f"{at}. {said_so}" for at, (_, said_so) in enumerate(on_offer(p), start=1)] if varies else []

    return Ordering(
        **said.common(_order_made(right, [each.key for each in options]), "reversed", "rotated", "swaps", "picks"),
        options=on_offer,
        answer=right,
        solution=worked(said.shown, *said.steps, in_order),
    )


def _order_made(right, keys, measured=None):
    def made(row, field, where):
        if field == "by":
            return measured(row["by"], f"{where}, by")
        if field == "reversed":
            return lambda p: right(p)[::-1]
        if field == "rotated":
            return lambda p: (*right(p)[1:], right(p)[0])
        picks = _picks(row, field, where, keys)
        if field == "picks":
            return lambda p: picks
        if len(picks) != 2:
            raise JetlibError(f"{where}: swaps is {cut(row[field])}; write two keys")
        swap = dict(zip(picks, picks[::-1], strict=True))
        return lambda p: tuple(swap.get(key, key) for key in right(p))

    return made


def _ranked(said):
    names, own = said.drawing.names, said.row["items"]
    letters = tuple(own) if isinstance(own, dict) else words(said.row, "letters", said.where) or "abcd"
    kind = among(words(said.row, "shows", said.where, needed=True), KINDS, f"{said.where}: shows is")

    def of_each(name, **needed):
        """{key: words} of a field, which is a table of them or words for all keys."""
        written = said.row.get(name)
        held = written if isinstance(written, dict) else dict.fromkeys(letters, words(said.row, name, said.where))
        return {
            key: of_letter(plain(words(held, key, f"{said.where}, {name}", **needed)), key, names) for key in letters
        }

    items = {key: said.named(item, "items") for key, item in of_each("items", needed=True).items()}

    def measures(text, field, kind=None):
        return {key: said.formula(of_letter(text, key, names), field, kind) for key in letters}

    def in_order(text, field):
        by = measures(text, field) if isinstance(text, str) else said.formula(text, field)
        return lambda p: tuple(sorted(letters, key=lambda key: (by[key](p), key)))

    by = measures(words(said.row, "by", said.where, needed=True), "by", kind)
    right = in_order(said.row["by"], "by")
    apart, most = _number(said, "apart", 1.2), _number(said, "most", None)
    common = said.common(_order_made(right, letters, in_order), "reversed", "by")
    kept = common["reject"]

    def silly(p):
        values = sorted(abs(by[key](p)) for key in letters)
        near = any(high < apart * low for low, high in pairwise(values))
        return near or (most is not None and from_si(values[-1], kind, "US") > most) or kept(p)

    totals = {key: step(line) for key, line in of_each("total").items() if line}

    def steps(p):
        for key in right(p):
            if key in totals:
                arithmetic, name, of = totals[key]
                yield f"{items[key]}: {arithmetic}", f"{name}_{key}", of
            else:
                yield f"{items[key]}: {{by_{key}}}"

    def solution(p, system):
        found = {**p, **{f"by_{key}": abs(by[key](p)) for key in letters}}
        return worked(said.shown | {f"by_{key}": kind for key in letters}, *said.steps, steps)(found, system)

    return Ordering(**common | {"reject": silly}, options=tuple(items.items()), answer=right, solution=solution)


def _number(said, name, usual):
    value = said.row.get(name, usual)
    if value is not None and (type(value) not in (int, float) or not value > 0):
        raise JetlibError(f"{said.where}: {name} is {cut(value)}; write a number above zero")
    return value


# --- two that every lesson has: the trade's word for a thing, and which ways of working are safe ------

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
        ask=lambda p, system: f"What does the trade call this?\n\n{sentence(terms[p['asked']][0])}",
        options=lambda p: tuple((word, word) for word in p["offered"]),
        answer=lambda p: p["asked"],
        mistakes=(
            Mistake(
                "mixed up with its neighbor",
                lambda p, system: f"These two are easily mixed up. The word you chose means: {terms[p['near']][0]}.",
                lambda p: p["near"],
            ),
        ),
        hints=(
            "Say in your own words what each of the words offered means. Which one fits?",
            "Two of the words are close to each other. Look for the one detail in which they differ.",
        ),
        solution=lambda p, system: f"{told(p['asked'])}\n\nEasily mixed up with it:\n\n{told(p['near'])}",
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
        solution=lambda p, system: "\n".join((
            "Safe:",
            *(f"- {safe[key]}." for key in p["safe"]),
            "\nNot safe:",
            *(f"- {unsafe[key][0]}. {unsafe[key][1]}." for key in p["unsafe"]),
            "\nThe machine's manual and your local rules come first.",
        )),
    )  # fmt: skip
