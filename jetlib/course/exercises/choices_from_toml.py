"""Exercises from TOML that are answered by choosing: one of, several, an order, a term, safe ways."""

import re
from itertools import pairwise

from jetlib.course.exercises.choosing import MultipleChoice, Ordering, SingleChoice
from jetlib.course.exercises.draws import of_letter
from jetlib.course.exercises.terms import name_it, safe_ways
from jetlib.course.exercises.worked import step, worked
from jetlib.course.store.checked_row import known, rows, words
from jetlib.errors import JetlibError
from jetlib.units import from_si
from jetlib.units.kinds import KINDS
from jetlib.units.refusal import cut

_KEY = re.compile(r"[\w-]+")


def choosing(said, *, several):
    """A SingleChoice, or a MultipleChoice where `several` can be right, of options of which some are `right`.

    right and cautious are true, false or a condition. A mistake `picks` keys; or it `adds` to the right ones, `drops`
    of them, or picks the `opposite`.
    """
    options, right, cautious = [], {}, {}
    for at, row in enumerate(rows(said.row, "options", said.where), start=1):
        where = f"{said.where}, option {at}"
        known(row, {"key", "words", "right", "cautious"}, where)
        key = _key(row, where)
        options.append((key, said.named(_plain(words(row, "words", where, needed=True)), where)))
        right[key], cautious[key] = _holds(said, row, "right", where), _holds(said, row, "cautious", where)
    keys = _own_keys([key for key, _ in options], said.where)

    def answer(p):
        found = tuple(key for key in keys if right[key](p))
        if not found or (len(found) > 1 and not several):
            raise JetlibError(f"{len(found)} options are right; write right = true for {'some' if several else 'one'}")
        return found if several else found[0]

    def made(row, field, where):
        picks = _picks_where(said, row, field, where, keys)

        def wrong(p):
            now, picked = set(answer(p) if several else [answer(p)]), {key for key, holds in picks if holds(p)}
            chosen = {"picks": picked, "adds": now | picked, "drops": now - picked, "opposite": set(keys) - now}[field]
            if not chosen or chosen == now:
                return None
            return tuple(key for key in keys if key in chosen) if several else min(chosen)

        return wrong

    common = said.common(made, *(("picks", "adds", "drops", "opposite") if several else ("picks",)))
    common |= {"options": tuple(options), "answer": answer, "solution": worked(said.shown, *said.steps)}
    if several:
        return MultipleChoice(**common, cautious=lambda p: tuple(key for key in keys if cautious[key](p)))
    return SingleChoice(**common)


def _plain(text):
    return " ".join(text.split())


def _key(row, where):
    key = words(row, "key", where, needed=True)
    if not _KEY.fullmatch(key.replace(" ", "-")):
        raise JetlibError(f"{where}: key is {cut(key)}; write a short word")
    return key


def _own_keys(keys, where):
    if len(set(keys)) != len(keys) or len(keys) < 2:
        raise JetlibError(f"{where}: options need keys of their own, two or more; they are {', '.join(keys) or 'none'}")
    return keys


def _holds(said, row, name, where):
    value = row.get(name, False)
    if isinstance(value, bool):
        return lambda p: value
    return said.condition(value, f"{where}, {name}")


def _picks(row, field, where, keys):
    value = row[field]
    if field == "opposite":
        return ()
    found = [value] if isinstance(value, str) else value
    if not isinstance(found, list) or not found or any(each not in keys for each in found):
        raise JetlibError(f"{where}: {field} is {cut(value)}; write keys of options, of {', '.join(keys)}")
    return tuple(found)


def _picks_where(said, row, field, where, keys):
    """(key, condition) of each key of a mistake: a list of keys, or a table of key = "condition"."""
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
    `reversed`, `swaps` two keys, `picks` an order, or goes `by` another formula.
    """
    return _ranked(said) if "items" in said.row else _listed(said)


def _listed(said):
    options = []
    for at, row in enumerate(rows(said.row, "options", said.where), start=1):
        where = f"{said.where}, option {at}"
        known(row, {"key", "words"}, where)
        options.append((_key(row, where), said.named(_plain(words(row, "words", where, needed=True)), where)))
    keys = _own_keys([key for key, _ in options], said.where)
    return Ordering(
        **said.common(_order_made(lambda p: tuple(keys), keys), "reversed", "swaps", "picks"),
        options=tuple(options),
        answer=lambda p: tuple(keys),
        solution=worked(said.shown, *said.steps),
    )


def _order_made(right, keys, measured=None):
    def made(row, field, where):
        if field == "by":
            return measured(row["by"], f"{where}, by")
        if field == "reversed":
            return lambda p: right(p)[::-1]
        picks = _picks(row, field, where, keys)
        if field == "picks":
            return lambda p: picks
        if len(picks) != 2:
            raise JetlibError(f"{where}: swaps is {cut(row[field])}; write two keys")
        swap = dict(zip(picks, picks[::-1], strict=True))
        return lambda p: tuple(swap.get(key, key) for key in right(p))

    return made


def _ranked(said):
    own, names = said.row["items"], said.drawing.names
    letters = tuple(own) if isinstance(own, dict) else words(said.row, "letters", said.where) or "abcd"
    kind = words(said.row, "shows", said.where, needed=True)
    if kind not in KINDS:
        raise JetlibError(f"{said.where}: shows is {cut(kind)}; write one of {', '.join(KINDS)}")
    said_of = own if isinstance(own, dict) else dict.fromkeys(letters, words(said.row, "items", said.where))
    items = {
        key: said.named(
            of_letter(_plain(words(said_of, key, f"{said.where}, items", needed=True)), key, names), "items"
        )
        for key in letters
    }

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

    total = step(words(said.row, "total", said.where))
    lines = {key: of_letter(total[0], key, names) for key in letters} if total else {}

    def steps(p):
        for key in right(p):
            if total:
                yield f"{items[key]}: {lines[key]}", f"{total[1]}_{key}", total[2]
            else:
                yield f"{items[key]}: {{by_{key}}}"

    def solution(p, show):
        found = {**p, **{f"by_{key}": abs(by[key](p)) for key in letters}}
        return worked(said.shown | {f"by_{key}": kind for key in letters}, *said.steps, steps)(found, show)

    return Ordering(**common | {"reject": silly}, options=tuple(items.items()), answer=right, solution=solution)


def _number(said, name, usual):
    value = said.row.get(name, usual)
    if value is not None and (type(value) not in (int, float) or not value > 0):
        raise JetlibError(f"{said.where}: {name} is {cut(value)}; write a number above zero")
    return value


def terms(said):
    """A SingleChoice: the meaning is given, the word is to be found. terms: {word, means, near} each."""
    found = []
    for at, row in enumerate(rows(said.row, "terms", said.where), start=1):
        where = f"{said.where}, term {at}"
        known(row, {"word", "means", "near"}, where)
        found.append(tuple(_plain(words(row, name, where, needed=True)) for name in ("word", "means", "near")))
    return name_it(said.id, found, **_titled(said))


def safe(said):
    """A MultipleChoice of ways to work. safe: {key, do} each; unsafe: {key, do, why} each."""
    lists = []
    for name, fields in (("safe", ("key", "do")), ("unsafe", ("key", "do", "why"))):
        lists.append([])
        for at, row in enumerate(rows(said.row, name, said.where), start=1):
            where = f"{said.where}, {name} {at}"
            known(row, set(fields), where)
            lists[-1].append(tuple(_plain(words(row, field, where, needed=True)) for field in fields))
    return safe_ways(said.id, said.field("ask", needed=True), *lists, **_titled(said))


def _titled(said):
    title = words(said.row, "title", said.where)
    return {"title": title} if title else {}
