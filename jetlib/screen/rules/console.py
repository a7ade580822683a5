"""The consoles of the page on rules of thumb: a rule of the trade, or one's own, on a rig and over a map of rigs."""

from jetlib.errors import JetlibError
from jetlib.rig.parts.part import remembered
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs, load_rig
from jetlib.rig.parts.site import Site
from jetlib.rig.rules.moves import CHANGES, LEVERS
from jetlib.rig.rules.quantities import QUANTITIES, STATES
from jetlib.rig.rules.rules import (
    Axis,
    band_names,
    found_rules,
    judge,
    levers_that_matter,
    map_of,
    read_rule,
    rules,
    safe_on,
)  # fmt: skip
from jetlib.screen.controls.console import Console
from jetlib.screen.controls.declared import console_of
from jetlib.screen.controls.rig_choice import rig_of, rig_options
from jetlib.screen.controls.units_choice import Following
from jetlib.screen.drawing.grid import banner
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.screen.drawing.table import Table
from jetlib.screen.rules.map import key_svg, map_svg
from jetlib.screen.rules.words import (
    instead_words,
    kind_shown,
    map_words,
    off_words,
    side_words,
    table_words,
    verdict_words,
)  # fmt: skip
from jetlib.units import Told

_WIDTH, _LEFT, _MAP = 760, 62, (352, 270)  # pixels: of all, left of the map, width and height of the map
_MARKS = (("green", "✔"), ("orange", "!"), ("red", "✘"))
_ALL = "every group"
_SITE = Site()
_PLACE = {"tank": "tank_volume", "altitude": "altitude", "pipe": "pipe_bore", "fall": "pipe_slope"}  # of a Site


def rules_console(
    rule: str = "half-flow",
    rig: str = "yard_trailer",
    *,
    system: str | None = None,
    title: str = "Does the rule hold?",
    **start: object,
) -> Console:
    """A console: a rule of the trade and a rig; what each says, a map of where the rule holds, and what to say instead.

    rule: an id of `rules()`. start: any of file (path of an own rig file), tank, altitude, pipe, fall.
    """
    groups = dict.fromkeys(each.group for each in rules().values())
    given = {
        "group": {"options": [(_ALL, ""), *((words, words) for words in groups)]},
        "find": {"read": _find},
        "rule": {"options": _options(rules()), "start": rule},
        **_rig_controls(rig),
        **{name: {"start": getattr(_SITE, field)} for name, field in _PLACE.items()},
    }
    made = console_of("rules_console", _draw_rule, given, system=system, title=title, start=start, made=_Rules)
    return _stacked(made)


def _options(found):
    return tuple((each.said, name) for name, each in found.items())


def _find(words):
    if not found_rules(words=words):
        raise JetlibError(f"no rule has the words {words.strip()[:40]!r}; write fewer of them, such as hose")
    return words


class _Rules(Console):
    """The console of the rules: what can be chosen is a group, or what is found by words in all of them."""

    def change(self, name, value):
        """A control has a new good value."""
        if name == "group":
            self._fields["find"].clear()
            self.values["find"] = ""
            self._list(found_rules(value))
        elif name == "find":
            self._list(found_rules(words=value) if value.strip() else found_rules(self.values["group"]))
        super().change(name, value)

    def set(self, **values):
        """Move controls from code; a rule that is not listed lists all again."""
        if values.get("rule", self.values["rule"]) not in [key for _, key in self._fields["rule"].box.options]:
            self._list(rules())
        super().set(**values)

    def _list(self, found):
        """List the Rules of a dict, with the same one chosen where it is among them."""
        box, chosen = self._fields["rule"].box, self.values["rule"]
        with self.quietly():
            box.options = _options(found)
            box.value = chosen if chosen in found else next(iter(found))


def own_rule_console(
    rule: str = "gauge at idle = 0.5 * gauge at full",
    rig: str = "yard_trailer",
    *,
    across: str = "",
    up: str = "",
    safe: str = "",
    system: str | None = None,
    title: str = "A rule of your own",
    file: str = "",
) -> Console:
    """A console: a rule typed as an equation or a limit, a rig, and the two quantities to draw the map over.

    across, up: names of LEVERS; "" for one of the two that matter most to it on that rig. safe: as of an Equation.
    """
    levers = {"options": [("what matters most", ""), *((lever.label, name) for name, lever in LEVERS.items())]}
    given = {"rule": {"read": read_rule}, "across": levers, "up": levers, **_rig_controls(rig)}
    start = {"rule": rule, "safe": safe, "across": across, "up": up, "file": file}
    return _stacked(console_of("own_rule_console", _draw_own, given, system=system, title=title, start=start))


def _rig_controls(rig):
    return {"rig": {"options": rig_options(), "start": rig}, "file": {"read": _own_rig}}


def _stacked(console):
    """The console, with the label over each long field on a phone."""
    for name in {"rule", "find", "rig", "file"} & set(console.controls):
        console._fields[name].box.add_class("course-stacked")
    return console


def _own_rig(path):
    return load_rig(path.strip()) if path.strip() else None


def _rig_of(values):
    own = values["file"]
    return rig_of(values["rig"]) if own is None else own


# --- pictures ---------------------------------------------------------------------------------------


def _draw_rule(values, system):
    rule = rules()[values["rule"]]
    site = Site(**{field: values[name] for name, field in _PLACE.items()})
    told = f"The physics: {rule.law} Say instead: {rule.instead}"
    return _picture(rule.said, rule.equation, _rig_of(values), site, (rule.x, rule.y), told, system)


def _draw_own(values, system):
    equation, rig = values["rule"], _rig_of(values)
    names = [values["across"], values["up"]]
    if "" in names:
        most = [each for each in _that_matter(equation, rig) if each not in names]
        names = [each or most.pop(0) for each in names]
    axes = [Axis(name, *LEVERS[name].usual) for name in names]
    equation = safe_on(equation, values["safe"])
    return _picture(equation.text.strip(), equation, rig, _SITE, axes, "", system)


_that_matter = remembered(8)(levers_that_matter)


def _picture(said, equation, rig, site, axes, told, system):
    verdict = judge(equation, rig, site)
    found = map_of(equation, rig, *axes, site)
    name, kind = rig.name or "This rig", kind_shown(equation.left)
    told_of = Told(system)
    words = (
        f"“{said}” {name}: {verdict_words(verdict, system)} {instead_words(verdict, found)} {map_words(found)} {told} "
        f"Assumed: tank {told_of.volume(site.tank_volume)}, {told_of.altitude(site.altitude)} above the sea, drain "
        f"{told_of.pipe_bore(site.pipe_bore)} with a fall of {told_of.slope(site.pipe_slope)}."
    )
    drawn = map_svg(found, system, left=_LEFT, top=8, width=_MAP[0], height=_MAP[1]), _LEFT + _MAP[0] + 22, _MAP[1] + 54
    said_here = "the rule wants" if equation.limit else "the rule says"
    answers = () if kind is None else (Answer(said_here, verdict.said, kind), Answer("it is", verdict.true, kind))
    colour, mark = _MARKS[band_names(verdict.equation).index(verdict.band)]
    more = "; ".join(each for each in (off_words(verdict), side_words(verdict)) if each)
    headline = banner(f"{mark} {name}: {verdict.band}", more, colour, _WIDTH)
    return stacked(" ".join(words.split()), headline, [drawn, (key_svg(found, 8, 8), 240, 90)],
                   answers=answers)  # fmt: skip


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
    """A Table of how many rules are exact, near, fair and off on each yard rig.

    A limit that is kept counts as near, one that is broken by up to 25 % as fair.
    """
    heads = ("rig", "exact", "within 10 %", "within 25 %", "off")
    cells = []
    for name in demo_rigs():
        found = [judge(rule.equation, demo_rig(name)) for rule in rules().values()]
        exact = sum(each.exact for each in found)
        bands = [sum(band_names(each.equation)[at] == each.band for each in found) for at in range(3)]
        cells.append((demo_rig(name).name, *map(str, (exact, bands[0] - exact, *bands[1:]))))
    return Table(heads, tuple(cells), heads[1:])


def names_table() -> Table:
    """A folded Table of all the names that a typed rule may use."""
    rows = [(name, "any state and change" if each.of_point else "", each.meaning) for name, each in QUANTITIES.items()]
    rows += [(f"at {name}", "state", _STATES[name]) for name in STATES]
    rows += [(f"with {name}", "change", meaning) for name, (_, meaning) in CHANGES.items()]
    return Table(("write", "used with", "what it is"), tuple(rows), fold=f"The {len(rows)} names a rule may use")


_STATES = {
    "full": "full throttle; assumed if nothing is said",
    "half throttle": "halfway from idle to full speed",
    "half speed": "half of full speed, whatever the idle is",
    "idle": "the throttle closed",
}
