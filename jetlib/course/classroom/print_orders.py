"""What a trainer may have printed, as a plan writes it: "seats 02 02-square-law", "gauge-card yard_trailer"."""

from dataclasses import dataclass

from jetlib.course.banks import registry as bank
from jetlib.course.callouts.kinds import kind as callout_kind
from jetlib.course.callouts.kinds import kinds
from jetlib.course.exercises.yard_job import in_round_metric
from jetlib.errors import JetlibError
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs, load_rig
from jetlib.units.refusal import cut

#: Name of a sheet -> (what it is of, what it is in words).
SHEETS = {
    "handout": ("lesson", "worksheet"),
    "seats": ("lesson", "a different sheet for each seat, and one key"),
    "key": ("lesson", "answer key"),
    "gauge-card": ("rig", "gauge card"),
    "job-card": ("rig", "job card of the yard's job"),
    "tables": ("rig", "tables of hose and jets"),
    "drill": ("rig", "hidden fault: the room's sheet and yours"),
    "callout": ("callout", "callout: your sheet with the truth"),
    "slips": ("", "a slip for each seat"),
    "attendance": ("", "attendance list to sign"),
    "assessment": ("", "final assessment: a different sheet for each seat, and one key"),
}


@dataclass(frozen=True)
class Order:
    """A sheet of SHEETS, the lesson or rig it is of, and the ids of the exercises wanted (none: all)."""

    sheet: str
    of: str = ""
    only: tuple = ()

    @property
    def words(self):
        """What will be printed, for a page."""
        kind, said = SHEETS[self.sheet]
        called = {"lesson": lambda: f"Lesson {self.of}", "rig": lambda: rig_called(self.of).name,
                  "callout": lambda: callout_kind(self.of).title}  # fmt: skip
        where = f"{called[kind]()}: " if kind else ""
        titles = "; ".join(bank.exercise(each).title for each in self.only)
        return where + said + (f" ({titles})" if titles else "")


def order_from(typed):
    """The Order in a text. Raises JetlibError that says which word of it to change."""
    sheet, *rest = typed.split() or [""]
    if sheet not in SHEETS:
        raise JetlibError(f"{cut(sheet)} is no sheet; write one of {', '.join(SHEETS)}")
    kind = SHEETS[sheet][0]
    known = {"rig": tuple(demo_rigs()), "lesson": bank.lessons(), "callout": tuple(kinds()), "": ()}[kind]
    if kind and not rest:
        raise JetlibError(f"{sheet} of which {kind}? write {sheet} {known[0]}")
    of, *only = rest or [""]
    if kind == "rig":
        rig_called(of)
    elif kind and of not in known:
        raise JetlibError(f"there is no {kind} {cut(of)}; write one of {', '.join(known)}")
    stray = rest if not kind else only if sheet not in ("seats", "key") else ()
    if stray:
        raise JetlibError(f"{sheet} has no use for {cut(stray[0])}; leave it out")
    for name in only:
        if bank.exercise(name).lesson != of:
            raise JetlibError(f"{name} is not of lesson {of}; write exercises of that lesson")
    return Order(sheet, of, tuple(only))


def rig_called(name, system="US"):
    """The Rig of that name in the yard, or of the rig file at that path. Raises JetlibError.

    system: "metric" for a yard rig in round metric figures, to be printed; a rig of one's own stays as it is.
    """
    if name not in demo_rigs():
        return load_rig(name)
    return in_round_metric(demo_rig(name)) if system == "metric" else demo_rig(name)
