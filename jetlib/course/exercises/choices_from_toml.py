"""Exercises from TOML that are answered by choosing: one of, several, an order."""

import re
from itertools import pairwise

from jetlib.course.exercises.choosing import MultipleChoice, Ordering, SingleChoice, check_keys
from jetlib.course.exercises.draws import of_letter
from jetlib.course.exercises.words import plain
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
    right, cautious = {}, {}
    options, offered, keys = _options(said, "right", "cautious")
    for at, row in enumerate(said.row["options"], start=1):
        where = f"{said.where}, option {at}"
        right[row["key"]] = _holds(said, row, "right", where)
        cautious[row["key"]] = _holds(said, row, "cautious", where)

    def answer(p):
        found = tuple(key for key in offered(p) if right[key](p))
        if not found or (len(found) > 1 and not several):
            raise JetlibError(f"{len(found)} options are right; write right = true for {'some' if several else 'one'}")
        return found if several else found[0]

    def made(row, field, where):
        picks = _picks_where(said, row, field, where, keys)

        def wrong(p):
            all_keys, now = set(offered(p)), set(answer(p) if several else [answer(p)])
            picked = {key for key, holds in picks if holds(p)} & all_keys
            chosen = {"picks": picked, "adds": now | picked, "drops": now - picked, "opposite": all_keys - now}[field]
            if not chosen or chosen == now:
                return None
            return tuple(key for key in keys if key in chosen) if several else min(chosen)

        return wrong

    common = said.common(made, *(("picks", "adds", "drops", "opposite") if several else ("picks",)))
    common |= said.alike() | {"options": options, "answer": answer, "solution": worked(said.shown, *said.steps)}
    if several:
        return MultipleChoice(**common, cautious=lambda p: tuple(key for key in offered(p) if cautious[key](p)))
    return SingleChoice(**common)


def _options(said, *more):
    """The options of an exercise, a function of the parameters where some are not always offered; the function that
    gives the keys on offer; and all keys. more: fields that an option may have."""
    found, holds = [], []
    for at, row in enumerate(rows(said.row, "options", said.where), start=1):
        where = f"{said.where}, option {at}"
        known(row, {"key", "words", "when", *more}, where)
        found.append((_key(row, where), said.named(plain(words(row, "words", where, needed=True)), where)))
        holds.append(said.condition(row["when"], f"{where}, when") if "when" in row else None)
    keys = [key for key, _ in found]
    check_keys(keys, said.where)
    if not any(holds):
        return tuple(found), lambda p: keys, keys

    def on_offer(p):
        return tuple(each for each, holds_now in zip(found, holds, strict=True) if holds_now is None or holds_now(p))

    return on_offer, lambda p: [key for key, _ in on_offer(p)], keys


def _key(row, where):
    key = words(row, "key", where, needed=True)
    if not _KEY.fullmatch(key.replace(" ", "-")):
        raise JetlibError(f"{where}: key is {cut(key)}; write a short word")
    return key


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
    `reversed`, `rotated` (the first put last), `swaps` two keys, `picks` an order, or goes `by` another formula.
    """
    return _ranked(said) if "items" in said.row else _listed(said)


def _listed(said):
    options, offered, keys = _options(said)

    def right(p):
        return tuple(offered(p))

    def in_order(p):
        """The steps of an order that is not always the same, numbered."""
        return [f"{at}. {said_so}" for at, (_, said_so) in enumerate(options(p), start=1)] if callable(options) else []

    return Ordering(
        **said.common(_order_made(right, keys), "reversed", "rotated", "swaps", "picks"),
        **said.alike(),
        options=options,
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
    common = said.common(_order_made(right, letters, in_order), "reversed", "by") | said.alike()
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

    def solution(p, show):
        found = {**p, **{f"by_{key}": abs(by[key](p)) for key in letters}}
        return worked(said.shown | {f"by_{key}": kind for key in letters}, *said.steps, steps)(found, show)

    return Ordering(**common | {"reject": silly}, options=tuple(items.items()), answer=right, solution=solution)


def _number(said, name, usual):
    value = said.row.get(name, usual)
    if value is not None and (type(value) not in (int, float) or not value > 0):
        raise JetlibError(f"{said.where}: {name} is {cut(value)}; write a number above zero")
    return value
