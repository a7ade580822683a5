"""The parts of a rig on the bench: the entries of each, and the texts of a part as it is when added."""

import re

from jetlib.screen.bench.entries.entry import declared
from jetlib.units.kinds import KINDS

MOST = {"hoses": 10, "fittings": 10, "jets": 6}
LISTS = tuple(MOST)
#: {part: {name: Entry}}
PARTS = {part: declared(part) for part in ("pump", "valve", *LISTS, "body", "engine", "site")}
ASSUMED, TABLE = "assumed, not seen", "from the table"


def fields_of(part, texts):
    """The Entries of a part with these texts, a list: those that its kind of valve or engine has."""
    kind = texts.get("kind", "")
    return [field for field in PARTS[part].values() if not kind or re.search(field.of, kind)]


def field_at(place):
    """The Entry of a place: (part, number or None, name)."""
    return PARTS[place[0]][place[2]]


def new_part(part, **texts):
    """The texts of a part as it is when added."""
    return {**{name: field.start for name, field in PARTS[part].items()}, **texts}


def unseen_part(part, **texts):
    """The texts of a part nobody has seen: what is usual is marked as assumed, and `texts` as from a table."""
    made = new_part(part, **texts)
    known = [name for name, field in PARTS[part].items() if made[name] and field.kind in KINDS]
    return {**made, "origin": {name: TABLE if name in texts else ASSUMED for name in known}}
