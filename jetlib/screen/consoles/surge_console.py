"""What happens when the jets shut at once: the surge in the last hose against how soon they shut, and its rating."""

from functools import lru_cache

import numpy as np

from jetlib.rig.hoses.surge import STOP_SLOWLY, surge
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.controls.console import Amount, Choice, Console
from jetlib.screen.controls.rig_choice import rig_of, whole_rigs
from jetlib.screen.drawing.chart import NARROW, Panel, Series, chart, curve, dot, legend, level, nice_ceiling
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.units import from_si, unit_label
from jetlib.units import text as words_of

_WIDTH = 760
_TIMES = np.linspace(0.005, 0.5, 67)
_SPEEDS = ("slow wave: 700 m/s", "likely: 1000 m/s", "fast wave: 1300 m/s")


def surge_console(
    rig: str = "yard_small_bore",
    *,
    system: str | None = None,
    title: str = "What happens when the jets shut at once",
    **start: object,
) -> Console:
    """A Console: a yard rig, its throttle, and how soon its jets shut; the surge in its last hose.

    start: any of throttle, closing_time, as the controls take them.
    """
    controls = [
        Choice("rig", "Rig", whole_rigs(), rig),
        Amount("throttle", "Throttle", "fraction", 0.0, 1.0, 100, 1.0),
        Amount("closing_time", "Jets plug within", "time", 0.005, 0.5, 99, 0.05),
    ]
    note = "The speed of a pressure wave in the hose is assumed: we found nothing published for jetting hose."
    return Console(title, controls, _draw, system=system, note=note, start=start)


@lru_cache(maxsize=64)
def _point(name, throttle):
    return operating_point(rig_of(name), throttle)


@lru_cache(maxsize=64)
def _peaks(name, throttle):
    return np.array([surge(_point(name, throttle), closing_time=time).peaks[:, -1] for time in _TIMES])


def _draw(values, system):
    point = _point(values["rig"], values["throttle"])
    found, curves = surge(point, closing_time=values["closing_time"]), _peaks(values["rig"], values["throttle"])
    rated = point.rig.hoses[-1].working_pressure
    most = max(float(_peaks(values["rig"], 1.0).max()), rated or 0.0)
    looks = (("orange", "dashed"), ("blue", "solid"), ("purple", "dashed"))
    series = [
        Series(name, _TIMES, from_si(curves[:, at], "pressure", system), *looks[at]) for at, name in enumerate(_SPEEDS)
    ]
    low, likely, high = (float(each) for each in found.peaks[:, -1])

    def drawn(width):
        top = 34 if width > NARROW else 70  # for three names above one another
        panel = Panel(
            "jets plug within, s", f"pressure in the last hose, {unit_label('pressure', system)}",
            (0, 0.5), (0, nice_ceiling(1.05 * from_si(most, "pressure", system))), 66, top, width - 110, 222,
        )  # fmt: skip
        pieces = [legend(panel, series)]
        if rated is not None:
            pieces.append(level(panel, from_si(rated, "pressure", system), "rated for", anchor="end"))
        pieces.append(level(panel, from_si(float(point.gauge), "pressure", system), "gauge before"))
        side = "end" if time > 0.3 else "start"
        now = [curve(panel, each) for each in series]
        now.append(dot(panel, time, from_si(likely, "pressure", system), told, anchor=side))
        return chart([panel], width, top + 276, pieces, now), width, top + 276

    time, told = values["closing_time"], words_of(likely, "pressure", system)
    ends = dict.fromkeys(words_of(each, "pressure", system) for each in (low, high))
    span = " to ".join(ends)  # a slow stop is the same for every wave
    words = (
        f"{point.rig.name}, gauge {words_of(float(point.gauge), 'pressure', system)}: if the jets plug within "
        f"{words_of(time, 'time', system)}, the last hose sees {span}"
    )
    words += "." if rated is None else f"; it is rated for {words_of(rated, 'pressure', system)}. "
    if found.over[-1]:
        words += f"That is over its rating, which surges must not exceed. {STOP_SLOWLY}"
    answers = [Answer("pressure when they stop", float(likely), "pressure")]
    return stacked(words.strip(), with_narrow(drawn, _WIDTH), answers=answers)
