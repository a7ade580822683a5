"""The consoles of the page on rules of thumb: a rule of the trade, or one's own, on a rig and over a map of rigs."""

from jetlib.errors import JetlibError
from jetlib.rig.change.named import CHANGES, MEANING
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs, load_rig
from jetlib.rig.parts.site import Site
from jetlib.rig.rules.map_axes import LEVERS, usual_range
from jetlib.rig.rules.quantities import QUANTITIES, STATES
from jetlib.rig.rules.rules import Axis, judge, map_of, read_rule, rules
from jetlib.screen.controls.console import Amount, Choice
from jetlib.screen.controls.rig_choice import rig_of, rig_options
from jetlib.screen.controls.typed_console import Line, TypedConsole
from jetlib.screen.controls.units_choice import Following
from jetlib.screen.drawing.picture import Picture
from jetlib.screen.drawing.table import Table
from jetlib.screen.rules.map import key_svg, map_svg, paragraph
from jetlib.screen.rules.words import instead_words, map_words, table_words, verdict_words
from jetlib.units import text as words_of

_WIDTH, _MAP = 760, (62, 250)  # pixels: left of the map, its height
_MAP_WIDTH, _SIDE = 388, 478
_SITE = Site()
_NOTE = (
    "Everything else on the map is as on this rig, and its jets stay as far from the match as they are. "
    "The machine's manual, local codes and a licensed operator come before any rule of thumb."
)


def rules_console(
    rule: str = "half-flow",
    rig: str = "yard_trailer",
    *,
    system: str | None = None,
    title: str = "Does the rule hold?",
    **start: object,
) -> TypedConsole:
    """A console: a rule of the trade and a rig; what each says, a map of where the rule holds, and what to say instead.

    rule: an id of `rules()`. start: any of file (path of an own rig file), tank, altitude, pipe, fall.
    """
    if rule not in rules():
        raise JetlibError(f"there is no rule {str(rule)[:40]!r}; write one of: {', '.join(rules())}")
    begin = {"tank": _SITE.tank_volume, "altitude": _SITE.altitude, "pipe": _SITE.pipe_bore, "fall": _SITE.pipe_slope}
    begin |= start
    controls = [
        Choice("rule", "Rule", tuple((each.said, name) for name, each in rules().items()), rule),
        _rig_choice(rig),
        Amount("tank", "Full tank", "volume", "25 gal", "500 gal", 95, begin["tank"]),
        Amount("altitude", "Height above the sea", "altitude", "0 ft", "10000 ft", 100, begin["altitude"]),
        Amount("pipe", "Bore of the drain", "pipe_bore", "2 in", "12 in", 40, begin["pipe"]),
        Amount("fall", "Fall of the drain", "slope", "0.2 %", "5 %", 96, begin["fall"]),
    ]
    return TypedConsole(title, [_file_line(begin.get("file", ""))], controls, _draw_rule, system=system, note=_NOTE)


def own_rule_console(
    rule: str = "gauge at idle = 0.5 * gauge at full",
    rig: str = "yard_trailer",
    *,
    across: str = "hose length",
    up: str = "idle speed",
    system: str | None = None,
    title: str = "A rule of your own",
    file: str = "",
) -> TypedConsole:
    """A console: a rule typed as an equation, a rig, and the two quantities to draw the map over."""
    levers = tuple((lever.label, name) for name, lever in LEVERS.items())
    lines = [Line("rule", "Your rule", read_rule, rule, "quantity = what the rule says"), _file_line(file)]
    controls = [_rig_choice(rig), Choice("across", "Map, across", levers, across), Choice("up", "Map, up", levers, up)]
    return TypedConsole(title, lines, controls, _draw_own, system=system, note=_NOTE)


def _rig_choice(rig):
    return Choice("rig", "Rig", tuple(rig_options()), rig)


def _file_line(start):
    return Line(
        "file", "Or your own rig file", _own_rig, start, "path of a .toml file; empty: the rig chosen above", "rig"
    )


def _own_rig(path):
    return load_rig(path.strip()) if path.strip() else None


def _rig_of(values):
    own = values["file"]
    return rig_of(values["rig"]) if own is None else own


# --- pictures ---------------------------------------------------------------------------------------


def _draw_rule(values, system):
    rule = rules()[values["rule"]]
    site = Site(
        tank_volume=values["tank"], altitude=values["altitude"], pipe_bore=values["pipe"], pipe_slope=values["fall"]
    )
    texts = (("The physics", rule.law), ("Say instead", rule.instead))
    return _picture(rule.said, rule.equation, _rig_of(values), site, rule.x, rule.y, texts, system)


def _draw_own(values, system):
    x, y = (Axis(name, *usual_range(name)) for name in (values["across"], values["up"]))
    equation = values["rule"]
    return _picture(equation.text.strip(), equation, _rig_of(values), _SITE, x, y, (), system)


def _picture(said, equation, rig, site, x, y, texts, system):
    verdict = judge(equation, rig, site)
    found = map_of(equation, rig, x, y, site)
    on_rig, instead = verdict_words(verdict, system), instead_words(verdict, found)
    where = _place_words(site, system)
    name = rig.name or "This rig"
    parts, line = [], 18
    for words, look in ((f"“{said}”", {"size": 15, "weight": "bold", "chars": 96, "step": 20}),):
        piece, line = paragraph(words, 14, line, **look)
        parts.append(piece)
    if texts:  # a typed rule is its own equation
        piece, line = paragraph(equation.text, 14, line, chars=118, colour="blue")
        parts.append(piece)
    for head, words in texts:
        piece, line = paragraph(f"{head}: {words}", 14, line + 4, chars=118)
        parts.append(piece)
    top = line + 14
    parts.append(map_svg(found, system, left=_MAP[0], top=top, width=_MAP_WIDTH, height=_MAP[1]))
    piece, below = paragraph(f"{name}: {verdict.band}", _SIDE, top + 12, chars=34, size=15, weight="bold", step=20)
    parts.append(piece)
    for words in (on_rig, instead, where):
        piece, below = paragraph(words, _SIDE, below + 6, chars=45)
        parts.append(piece)
    parts.append(key_svg(found, _SIDE, below + 2))
    height = max(top + _MAP[1] + 46, below + 82)
    words = f"“{said}” {name}: {on_rig} {map_words(found)} {instead} {where}"
    return Picture("".join(parts), _WIDTH, round(height), words)


def _place_words(site, system):
    return (
        f"Assumed: tank {words_of(site.tank_volume, 'volume', system)}, "
        f"{words_of(site.altitude, 'altitude', system)} above the sea, drain "
        f"{words_of(site.pipe_bore, 'pipe_bore', system)} with a fall of {words_of(site.pipe_slope, 'slope', system)}."
    )


# --- tables -----------------------------------------------------------------------------------------


def rules_table(*, system: str | None = None) -> Following:
    """A table of all rules of the trade with the verdict on each yard rig."""
    return Following(_verdicts, system)


def _verdicts(system):
    names = tuple(demo_rigs())
    heads = ("rule", *(demo_rig(name).name for name in names), "source")
    cells = []
    for rule in rules().values():
        verdicts = (table_words(judge(rule.equation, demo_rig(name)), system) for name in names)
        cells.append((rule.said, *verdicts, rule.source))
    return Table(heads, tuple(cells))


def tally_table() -> Table:
    """A Table of how many rules are exact, near, fair and off on each yard rig."""
    heads = ("rig", "exact", "within 10 %", "within 25 %", "off")
    cells = []
    for name in demo_rigs():
        found = [judge(rule.equation, demo_rig(name)) for rule in rules().values()]
        exact = sum(each.exact for each in found)
        bands = [sum(each.band == band for each in found) for band in heads[2:]]
        cells.append((demo_rig(name).name, *map(str, (exact, bands[0] - exact, *bands[1:]))))
    return Table(heads, tuple(cells), heads[1:])


def names_table() -> Table:
    """A folded Table of all the names that a typed rule may use."""
    rows = [(name, "any state and change" if each.of_point else "", each.meaning) for name, each in QUANTITIES.items()]
    rows += [(f"at {name}", "state", _STATES[name]) for name in STATES]
    rows += [(f"with {name}", "change", MEANING[name]) for name in CHANGES]
    return Table(("write", "used with", "what it is"), tuple(rows), fold=f"The {len(rows)} names a rule may use")


_STATES = {
    "full": "full throttle; assumed if nothing is said",
    "half throttle": "halfway from idle to full speed",
    "half speed": "half of full speed, whatever the idle is",
    "idle": "the throttle closed",
}
