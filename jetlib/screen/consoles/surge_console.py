"""What happens when the jets shut at once: the surge in the last hose against how soon they shut, and its rating."""

from functools import lru_cache

import numpy as np

from jetlib.rig.hoses.surge import surge
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.controls.console import Amount, Choice, Console
from jetlib.screen.controls.rig_choice import rig_of, whole_rigs
from jetlib.screen.drawing.chart import HALO, Panel, Series, chart, curve, dot, legend, level
from jetlib.screen.drawing.picture import Answer, stacked
from jetlib.units import from_si, unit_label
from jetlib.units import text as words_of

_WIDTH, _HEIGHT = 760, 310
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
    bottom, top = (
        from_si(each, "pressure", system)
        for each in (0.8 * float(point.gauge), 1.05 * max(float(curves.max()), rated or 0.0))
    )
    step = 10.0 ** np.floor(np.log10(top)) / 2.0
    panel = Panel(
        "jets plug within, s", f"pressure in the last hose, {unit_label('pressure', system)}",
        (0, 0.5), (step * np.floor(bottom / step), step * np.ceil(top / step)), 66, 34, 650, 222,
    )  # fmt: skip
    looks = (("orange", "dashed"), ("blue", "solid"), ("purple", "dashed"))
    series = [
        Series(name, _TIMES, from_si(curves[:, at], "pressure", system), *looks[at]) for at, name in enumerate(_SPEEDS)
    ]
    low, likely, high = (float(each) for each in found.peaks[:, -1])
    pieces = [legend(panel, series), *(curve(panel, each) for each in series)]
    if rated is not None:
        pieces.append(level(panel, from_si(rated, "pressure", system), "rated for", anchor="end"))
    pieces.append(level(panel, from_si(float(point.gauge), "pressure", system), "gauge before"))
    time = values["closing_time"]
    side = "end" if time > 0.3 else "start"
    mark = dot(panel, time, from_si(likely, "pressure", system), words_of(likely, "pressure", system), anchor=side)
    pieces.append(f'<g style="{HALO}">{mark}</g>')
    ends = dict.fromkeys(words_of(each, "pressure", system) for each in (low, high))
    span = " to ".join(ends)  # a slow stop is the same for every wave
    words = (
        f"{point.rig.name}, gauge {words_of(float(point.gauge), 'pressure', system)}: if the jets plug within "
        f"{words_of(time, 'time', system)}, the last hose sees {span}"
    )
    words += "." if rated is None else f"; it is rated for {words_of(rated, 'pressure', system)}. "
    if found.over[-1]:
        words += "That is over its rating, which surges must not exceed. Stop slowly: throttle down first."
    answers = [Answer("pressure when they stop", float(likely), "pressure")]
    return stacked(words.strip(), (chart([panel], _WIDTH, _HEIGHT, pieces), _WIDTH, _HEIGHT), answers=answers)
