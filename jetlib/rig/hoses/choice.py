"""Which hose: every hose of the table put in one place of a rig, with what it delivers, weighs and drags."""

from collections import Counter
from dataclasses import dataclass

import numpy as np

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.hoses.fit import (
    USUAL_RESERVE,
    FittedLine,
    Question,
    cautions_of,
    hose_fields,
    hose_sizes,
    one_number,
    reasons_against,
)
from jetlib.rig.hoses.weight import PipeRun
from jetlib.rig.parts.machine import Hose, Rig
from jetlib.rig.parts.part import Ranked
from jetlib.rig.point.operating_point import OperatingPoint
from jetlib.units import both
from jetlib.units.given import Length, Share
from jetlib.units.refusal import cut


@dataclass(frozen=True, eq=False)
class HoseChoice(FittedLine):
    """`size` as hose number `section` (1 is at the pump), `length` m of it, and what `rig` so fitted does; SI floats.

    hose_loss: friction in that hose. pull: of the jets along the hose. drag: what the line in the pipe takes of it.
    pull_left: the rest; below 0 they do not pull it that far. reach: m of line, from the nozzle back, that they pull.
    jet_power: W in the water before the jets. pressure_seen: where the water enters that hose, at full throttle.
    pressure_needed: highest pressure the line can come to, the reserve on it, and the likely surge up to its end.
    mass_empty, mass_full (of water): kg of that hose. bend_room: tightest radius (m) the pipe's bends leave it, None
    where not asked. reasons: why it must not be used, in words; usable when there are none.
    """

    size: tables.HoseSize
    section: int
    length: float
    pressure_seen: float
    bend_room: float | None

    @property
    def label(self):
        """Such as -6 EN 853 2SN (2015)."""
        return self.size.label

    @property
    def pressure_enough(self):
        """Whether its working pressure covers the highest pressure, the reserve and the surge."""
        return self.size.working_pressure >= self.pressure_needed

    @property
    def sentence(self):
        """What it does, in a sentence."""
        return (
            f"{self.label}: {both(self.nozzle_flow, 'flow')} through the nozzle, {both(self.hose_loss, 'pressure')} "
            f"lost in it, gauge {both(self.gauge, 'pressure')}, {both(self.mass_full, 'mass')} full of water, "
            f"net pull {both(self.pull_left, 'force')}, reach {both(self.reach, 'length')}.{self.verdict}"
        )


@dataclass(frozen=True, eq=False)
class HoseChoices(Ranked):
    """Hoses ranked, best first, those not to be used last; works as a sequence of HoseChoice.

    present: the OperatingPoint at full throttle of the rig as it stands, and present_pull_left its pull less drag, N.
    left_out: pairs of a HoseSize and why it could not be worked out.
    """

    choices: tuple
    present: OperatingPoint
    present_pull_left: float
    left_out: tuple

    @property
    def usable(self):
        """Those that may be used, best first."""
        return tuple(choice for choice in self.choices if choice.usable)

    @property
    def advice(self):
        """The best in a sentence, or that there is none."""
        if self.usable:
            return self.usable[0].sentence
        return "None of these hoses can be used here: " + _most_common([choice.reasons for choice in self.choices])

    @property
    def cautions(self):
        """Sentences the reader must see, a tuple."""
        short = [choice for choice in self.choices if not choice.pressure_enough]
        return cautions_of(len(short), len(self.choices), self.present.cautions)


def hose_choices(
    rig: Rig,
    section: int | str,
    *,
    hoses: object = None,
    length: Length | None = None,
    pipe: PipeRun | None = None,
    reserve: Share = USUAL_RESERVE,
    rank_by: str = "pull_left",
    throttle: Share = 1.0,
) -> HoseChoices:
    """The HoseChoices for one place of `rig`: each hose in turn, all else as it stands.

    section: number of the hose it replaces (1 is at the pump), or "end" to add it before the nozzle. hoses: HoseSizes;
    all of the table for None. length: as now for None; must be given at the "end". pipe: the PipeRun it has to go
    down; one without bends for None. reserve: share by which the working pressure, less the likely surge, must
    stand above the highest pressure that the valve lets the line come to with the jets plugged. rank_by: a key of
    RANKS: "pull_left", "reach", "nozzle_flow" or "jet_power", most first; "hose_loss" or "mass_full", least first. By
    pull left, lines that the jets do not pull the whole way come after, by reach.

    The new hose lies on the reel as the old one did; its ends are as narrow in proportion; wall and mass are those of
    the table. All hoses are worked out as one rig of arrays. Raises JetlibError for a rig of arrays, and for a
    section that is not there.

    >>> hose_choices(demo_rig("yard_trailer"), 1)[0].label
    '-4 SAE 100R8 (2003)'
    """
    asked = Question.of("hose_choices", rig, pipe, reserve, rank_by, throttle)
    old, at = _place(asked.rig, section)
    if length is not None:
        length = one_number(length, "length", "length", "hose_choices")
    elif old is None:
        raise JetlibError('length is missing; write hose_choices(rig, "end", length="30 ft")')
    else:
        length = old.length
    sizes, left_out = hose_sizes(hoses, old and old.coil_diameter)
    present = asked.point(asked.rig.hoses)
    present_left = float(present.reaction - asked.drag_and_reach(present)[0])
    if not sizes:
        return HoseChoices((), present, present_left, left_out)

    def fitted(sizes):
        hoses = asked.rig.hoses
        return (*hoses[:at], _as_hose(hose_fields(sizes), old, length), *hoses[at + (old is not None) :])

    outside = np.array([size.outside_diameter_max for size in sizes])
    point = asked.point(fitted(sizes))
    readings = asked.readings(point, {at: outside})
    ranks = dict(zip(sizes, asked.rank_value(readings), strict=True))
    readings["pressure_seen"] = np.broadcast_to(point.hose_pressures[at], len(sizes))
    on_reel = None if old is None or not old.coiled_length > 0 else old.coil_diameter
    choices = []
    for row, size in enumerate(sizes):
        values = {name: float(value[row]) for name, value in readings.items()}
        reasons = reasons_against(size, values["pressure_needed"], asked.pipe, on_reel)
        room = asked.pipe.room_for(size.outside_diameter_max)
        room = None if room is None else float(room)
        line = asked.rig.replace(hoses=fitted(size))
        choices.append(HoseChoice(size, at + 1, length, rig=line, bend_room=room, reasons=reasons, **values))
    # Rounded, so that hoses equal but for the last digits stay in the order of their names.
    choices.sort(key=lambda each: (not each.usable, float(f"{ranks[each.size]:.9e}"), each.mass_full, each.label))
    return HoseChoices(tuple(choices), present, present_left, left_out)


def _most_common(reasons):
    words = Counter(each.split(":")[0].rstrip(".") for one in reasons for each in one).most_common(1)
    return f"{words[0][0].lower()} ({words[0][1]} of {len(reasons)})." if words else "there are none."


def _place(rig, section):
    """The hose to be replaced (None at the end) and its place from 0."""
    if isinstance(section, str) and section == "end":
        return None, len(rig.hoses)
    if not isinstance(section, int) or isinstance(section, bool) or not 1 <= section <= len(rig.hoses):
        raise JetlibError(
            f'section is {cut(section)}; allowed: "end", or a hose from 1 (at the pump) to {len(rig.hoses)}; '
            'write hose_choices(rig, "end", length="30 ft")'
        )
    return rig.hoses[section - 1], section - 1


def _as_hose(fields, old, length):
    """A Hose with these fields (or columns of them) that lies as `old` did."""
    if old is None:
        return Hose(length=length, **fields)
    whole = old.coil_diameter is not None and old.coiled_length == old.length
    coiled = length if whole else min(old.coiled_length, length)
    return old.with_bore(length=length, coiled_length=coiled, **fields)
