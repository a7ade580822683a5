"""Evidence as pictures and tables, each with a plain text twin: published values, trade facts, what is left out.

What is shown is worked out elsewhere: a row of published values is a dict with the published `value`, what the course
`computed`, the `disagreement` (a share), `rel_tol` (the share allowed) and words on where the value is from.
"""

import csv
import re
import sys
from functools import cache
from importlib import import_module

import numpy as np

from jetlib.errors import JetlibError
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.comparison import LivePicture, Marks, comparison, percent
from jetlib.screen.drawing.picture import Picture
from jetlib.screen.drawing.table import Table
from jetlib.tables import DATA

_WIDTH, _BAR, _STEP = 760, 470, 17
_ALL = "All together"
_SMALL = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
_ROUNDING = 1e-9  # a share: what sums of rounded numbers may differ by
#: Headings of the page, and what their rows have in common: the kind, and the module they exercise where it counts.
_SECTIONS = {
    "Water": ("water", ""),
    "Hose friction": ("friction", ""),
    "Reels": ("coil", ""),
    "Fittings": ("fitting", ""),
    "Jets": ("orifice", ""),
    "Pump and power": ("pump", "pump."),
    "Reaction": ("reaction", ""),
    "Heat": ("pump", "heat."),
    "Altitude": ("pump", "air."),
    "Drain pipe flow": ("manning", ""),
    "Sizes": ("size", ""),
    "Whole line": ("series", ""),
}


def from_tests(name):
    """A module of tests/published or tests/independent by its name. Raises JetlibError where those folders are not."""
    for folder in (DATA.parent / "tests" / each for each in ("published", "independent")):
        if not folder.is_dir():
            raise JetlibError(f"the folder tests/{folder.name} is missing; keep jetlib/ and tests/ side by side")
        if str(folder) not in sys.path:
            sys.path.append(str(folder))
    return import_module(name)


@cache
def published():
    """The published values beside what the course computes, by heading of the page: a dict of lists of rows."""
    return sections(from_tests("evaluate").results())


def sections(rows):
    """The published rows by heading of the page: a dict of lists. Each stands once, at the first heading it fits."""
    found = {heading: [] for heading in _SECTIONS}
    for row in rows:
        of_kind = [heading for heading, (kind, _) in _SECTIONS.items() if kind == row["kind"]]
        checked = row["checked"] or ""
        fits = [each for each in of_kind if _SECTIONS[each][1] and checked.startswith(_SECTIONS[each][1])]
        found[(fits or of_kind)[0]].append(row)
    return found


# --- published values -------------------------------------------------------------------------------


def agreement(name, rows=None):
    """A LivePicture of published `rows`, by default those of the heading `name`: the course's value against the
    published one, and the differences.

    Each value is in the unit of its row, on logarithmic axes; one of nothing or below stands in the table only.
    """
    rows = published()[name] if rows is None else rows
    looks = {
        "measured": ("square", "green"),
        "quoted from the source": ("dot", "blue"),
        "calculated independently of this course": ("ring", "purple"),
        "from memory": ("diamond", "orange"),
    }
    marks = []
    for words, look in looks.items():
        shown = [row for row in rows if _origin(row) == words and row["computed"] is not None and row["value"] > 0]
        x, y, off, allowed = (
            np.array([row[key] for row in shown], dtype=float)
            for key in ("value", "computed", "disagreement", "rel_tol")
        )
        tags = tuple(row["id"] for row in shown)
        marks.append(Marks(words, x, y, 100 * off, *look, tags, 100 * allowed))
    labels = {"x_label": "published value, each in its own unit", "y_label": "this course"}
    return comparison(agreement_words(name, rows), marks, equal=True, **labels)


def agreement_words(name, rows):
    """How well the course agrees with published `rows`, in a few sentences of numbers."""
    shown = [row for row in rows if row["computed"] is not None]
    off = np.array([abs(row["disagreement"]) for row in shown])
    worst = shown[int(np.argmax(off))]
    outside = [row["id"] for row in shown if not row["agrees"]]
    words = f"{name}: {len(shown)} published values. "
    if off.max() < 5e-13:
        words += "None differs at all. "
    else:
        middle = np.median(off)
        words += "Half of them agree exactly. " if middle < 5e-13 else f"Half of them agree to {percent(middle)}. "
        words += (
            f"The largest difference is {percent(worst['disagreement'], sign=True)}: {worst['id']}, "
            f"{worst['quantity']}, {worst['conditions']}. "
        )
    words += (
        f"Outside the tolerance of its row: {', '.join(outside)}."
        if outside
        else "All lie within the tolerances of their rows."
    )
    for origin in ("measured", "from memory"):
        count = sum(_origin(row) == origin for row in shown)
        words += f" {count} {'is' if count == 1 else 'are'} {origin}." if count else ""
    below = [row["id"] for row in shown if not row["value"] > 0]
    return words + (f" Not above zero, so in the table only: {', '.join(below)}." if below else "")


def _origin(row):
    if "from memory" in row["confidence"]:
        return "from memory"
    if row["quantity"].startswith("MEASURED"):
        return "measured"
    return "quoted from the source" if "quoted" in row["confidence"] else "calculated independently of this course"


# --- tables ----------------------------------------------------------------------------------------


def values_table(rows, *, fold=True):
    """Published values one by one: what, source, published, computed, difference, how much is allowed, how sure."""
    heads = ("id", "what", "source", "published", "this course", "difference", "allowed", "confidence")
    cells = [
        (
            row["id"],
            _what(row),
            row["source"],
            f"{row['value']:.6g} {row['unit'].removeprefix('-')}".strip(),
            f"{row['computed']:.6g}",
            percent(row["disagreement"], sign=True),
            f"{100 * row['rel_tol']:.2g} %",
            row["confidence"],
        )
        for row in rows
        if row["computed"] is not None
    ]
    words = f"The {len(cells)} values one by one" if fold else ""
    cells = tuple(tuple(map(_raised, row)) for row in cells)
    return Table(heads, cells, ("published", "this course", "difference", "allowed"), words)


def _raised(words):
    """Words with each power of ten as people write it: 1.0034 × 10⁻⁶ for 1.0034e-06."""
    return re.sub(r"(?<=\d)e([+-]?\d+)\b", lambda found: f" × 10{str(int(found[1])).translate(_SMALL)}", str(words))


def unused_table(rows):
    """Published values that do not apply to this course, and why."""
    cells = [(r["id"], _what(r), r["source"], r["why_not"], r["confidence"]) for r in rows if r["computed"] is None]
    return Table(("id", "what", "source", "why it does not apply", "confidence"), tuple(cells))


def overview_table(rows_of):
    """One line a section and one for all, from heading -> rows: how many, how well they agree, how many from memory."""
    heads = ("section", "values", "half within", "largest difference", "which", "from memory", "do not apply")
    lines = [*rows_of.items(), (_ALL, [row for rows in rows_of.values() for row in rows])]
    cells = []
    for heading, rows in lines:
        shown = [row for row in rows if row["computed"] is not None]
        worst = max(shown, key=lambda row: abs(row["disagreement"]))
        memory = sum("from memory" in row["confidence"] for row in shown)
        cells.append(
            (
                heading,
                str(len(shown)),
                percent(np.median([abs(row["disagreement"]) for row in shown])),
                percent(worst["disagreement"], sign=True),
                f"{worst['id']}, {worst['quantity']}" if abs(worst["disagreement"]) > 5e-13 else "none differs",
                str(memory),
                str(len(rows) - len(shown)),
            )
        )
    numbers = ("values", "half within", "largest difference", "from memory", "do not apply")
    return Table(heads, tuple(cells), numbers, links=tuple(rows_of))


def checks_table(checks):
    """Checks on many points, from rows of (what, against what, how many points, differences as shares)."""
    heads = ("what", "against", "points", "difference")
    cells = []
    for what, against, count, shares in checks:
        low, high = float(np.min(shares)), float(np.max(shares))
        if low == high:
            words = percent(low, sign=True)
        elif max(-low, high) < 5e-7:
            words = f"at most {max(-low, high):.0e} of it" if max(-low, high) > _ROUNDING else "rounding only"
        else:
            words = f"{percent(low, sign=True)} to {percent(high, sign=True)}"
        cells.append((what, against, f"{count:,}", _raised(words)))
    return Table(heads, tuple(cells), ("points",))


def facts_table(facts):
    """Trade facts one by one: the words, the range, what is claimed, what the course computes, on how many machines."""
    heads = ("no.", "fact", "over", "claimed", "this course", "tried", "holds", "confidence")
    cells = [
        (
            str(number),
            each.words,
            each.range,
            f"{each.low:g} to {each.high:g} {each.unit}".strip(),
            f"{each.computed_low:.4g} to {each.computed_high:.4g}",
            str(each.tried),
            "yes" if each.holds else "NO",
            each.confidence,
        )
        for number, each in enumerate(facts, start=1)
    ]
    return Table(heads, tuple(cells), ("no.", "tried"), f"The {len(cells)} facts one by one")


def facts_picture(facts):
    """A LivePicture: for each fact the range that is claimed as a frame, what the course computes as a bar."""
    holding = sum(each.holds for each in facts)
    fewest, most = (f"{end(each.tried for each in facts):,}" for end in (min, max))
    words = (
        f"{len(facts)} facts of the trade, each tried on {fewest} to {most} cases: {holding} hold over all of the "
        "range named. Frame: what the trade claims, from its lowest to its highest. Bar: what this course computes."
    )
    parts, width = [], _WIDTH - _BAR - 20
    for number, each in enumerate(facts, start=1):
        y = _STEP * number
        share = (np.array([each.computed_low, each.computed_high]) - each.low) / (each.high - each.low)
        left, right = np.clip(share, -0.03, 1.03) * width
        colour = "blue" if each.holds else "red"
        parts += [
            text(24, y, str(number), anchor="end", size=11),
            text(30, y, _short(each.words), size=11),
            f'<rect x="{_BAR}" y="{y - 11}" width="{width}" height="13" fill="none" stroke="currentColor" '
            'stroke-opacity="0.45"/>',
            f'<rect class="jl-ink-{colour}" x="{_BAR + left:.1f}" y="{y - 9}" width="{max(right - left, 3):.1f}" '
            'height="9"/>',
        ]
    return LivePicture(Picture("".join(parts), _WIDTH, _STEP * len(facts) + 12, words))


def costs_table(costs):
    """What is left out: the effect, what the course is off by, of what, and how that was worked out."""
    heads = ("left out or assumed", "this course is off by", "of", "worked out from")
    cells = [(each.effect, _range_words(each.low, each.high), each.of_what, each.how) for each in costs]
    return Table(heads, tuple(cells), ("this course is off by",))


def diagnosis_table():
    """How often the diagnosis is right on faulty rigs that are not jetlib's own, and how often where it is sure."""
    heads = ("what was read", "rigs", "right cause first", "among the first two", "over 95 % sure", "and right")
    cells = [
        (
            row["readings"] if row["readings"].startswith("gauge") else f"the same {row['readings']}",
            f"{row['cases']}, {_SHAPES[row['shapes']]}",
            _per_cent(row["first"]),
            _per_cent(row["first_two"]),
            f"{row['sure']} times",
            _per_cent(row["sure_right"]),
        )
        for row in _reference("diagnosis_table")
    ]
    return Table(heads, tuple(cells), heads[2:])


def coverage_table():
    """How many of 2,000 rigs that are not jetlib's own give a reading within the band, for two spreads of the truth."""
    heads = ("rig", "how far the truths spread", "throttle", "gauge", "nozzle flow", "nozzle pressure", "pull")
    cells = [
        (
            row["rig"].replace("_", " "),
            _SPREADS[row["spread"]],
            f"{100 * float(row['throttle']):g} %",
            *(_per_cent(row[name]) for name in ("gauge", "nozzle_flow", "nozzle_pressure", "reaction")),
        )
        for row in _reference("coverage_table")
    ]
    return Table(heads, tuple(cells), heads[2:])


_SHAPES = {"first": "faults as drawn in books", "second": "faults of another shape", "both": "all of them"}
_SPREADS = {"middle": "hole edges as named, no wear", "wide": "any hole edge, and wear"}


def _reference(name):
    with open(DATA / "reference" / f"{name}.csv", newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def _per_cent(share):
    return f"{100 * float(share):.0f} %"


def _range_words(low, high):
    low_words, high_words = (f"{100 * share:+.2g}".replace("-", "−") for share in (low, high))
    return f"{low_words} %" if low_words == high_words else f"{low_words} to {high_words} %"


def _what(row):
    return "; ".join(each for each in (row["quantity"], row["conditions"]) if each not in ("", "-"))


def _short(words, most=70):
    """As many whole words as there is room for."""
    if len(words) <= most:
        return words
    return words[:most].rsplit(" ", 1)[0] + " …"
