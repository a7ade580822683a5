"""A console from its table in data/consoles.toml, which has its title, controls and note, and a function that draws it.

A control is a line there: of which sort it is, with its label, then the fields of that sort. A choice lists `options`
as (words, value), or `sizes` of the kind `of`, which are worded in both systems; `si` turns its values into SI. A "rig"
is a choice of rigs, "keep" a button that keeps the values of all controls to compare with, "forget" one that clears
what is kept.
"""

from functools import partial

from jetlib.course.pages.consoles import CONSOLES
from jetlib.screen.controls.console import Amount, Choice, Console, Count, Line, Push, Switch
from jetlib.screen.controls.rig_choice import rig_of, whole_rigs
from jetlib.units import si, text

_SORTS = {"amount": Amount, "choice": Choice, "count": Count, "line": Line, "push": Push, "switch": Switch}


def console(given=lambda rig: {}):
    """Turn `draw(values, system)`, a function that returns a Picture, into the public maker of the console so named.

    The maker takes a rig if its table names one, a system, a title, and what controls start with, by their names.
    given(rig), and what `draw` gets: as in `console_of`.
    """

    def decorated(draw):
        name, row = draw.__name__, CONSOLES[draw.__name__].row

        def without(*, system: str | None = None, title: str = row["title"], **start: object) -> Console:
            return console_of(name, draw, given(""), system=system, title=title, start=start)

        def with_rig(
            rig: str = row.get("rig", ""), *, system: str | None = None, title: str = row["title"], **start: object
        ) -> Console:
            return console_of(name, draw, given(rig), rig=rig, system=system, title=title, start=start)

        maker = with_rig if "rig" in row else without
        for each in ("__name__", "__qualname__", "__module__"):
            setattr(maker, each, getattr(draw, each))
        taken = _SORTS.keys() - {"push"}
        names = [key for key, control in row["controls"].items() if next(iter(control)) in taken]
        maker.__doc__ = f"{draw.__doc__.rstrip()}\n\n    start: any of {', '.join(names)}, as the controls take them."
        return maker

    return decorated


def console_of(name, draw, given, *, rig="", system=None, title="", start, made=Console):
    """The Console of that name in the table; system, title, start: as a Console takes them. made: its class.

    given: what the table cannot know, {control: {field: value}} (None leaves a control out), and under "note" {blank:
    words} for the note. draw(values, system): "rig" is among the values where the table names one, and so is "kept", a
    dict of what is kept, where there is a button for it.
    """
    row, controls = CONSOLES[name].row, []
    values = {"rig": rig} if "rig" in row else {}
    start = {key: "none" if value is None else value for key, value in start.items()}  # no control holds None
    for key, declared in row["controls"].items():
        if given.get(key, {}) is None:
            continue
        sort, fields = next(iter(declared)), {**declared, **given.get(key, {})}
        label = fields.pop(sort)
        if sort == "rig":
            sort, fields = "choice", {"options": whole_rigs(**fields), "start": rig}
        elif sort in ("keep", "forget"):
            kept = values["kept"] = {}
            fields = {"change": kept.update if sort == "keep" else lambda _, kept=kept: kept.clear()}
            sort = "push"
        elif sort == "choice":
            kind = fields.pop("of", "")
            read = partial(si, kind=kind) if fields.pop("si", False) else _held
            sizes = [(f"{size} ({text(si(size, kind), kind, 'metric')})", size) for size in fields.pop("sizes", ())]
            fields["options"] = tuple((words, read(value)) for words, value in sizes or fields["options"])
            start[key] = read(start.get(key, fields["start"]))
        controls.append(_SORTS[sort](key, label, **fields))
    note = row.get("note", "")
    if "rig" in row and "rig" not in row["controls"]:
        note = note.format(rig=rig_of(rig).name, **given.get("note", {}))

    def drawn(now, system):
        return draw({**values, **now}, system)

    return made(title or row["title"], controls, drawn, system=system, note=note, start=start)


def _held(value):
    """A value as a choice can hold it."""
    return tuple(value) if isinstance(value, list) else value
