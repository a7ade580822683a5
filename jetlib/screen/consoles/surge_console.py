"""What happens when the jets shut at once: the surge in the last hose against how soon they shut, and its rating."""

from functools import lru_cache

import numpy as np

from jetlib.rig.hoses.surge import STOP_SLOWLY, surge
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.controls.declared import console
from jetlib.screen.controls.rig_choice import rig_of
from jetlib.screen.drawing.chart import NARROW, Axis, Series, axes, chart, curve, dot, legend, level
from jetlib.screen.drawing.picture import Answer, stacked, with_narrow
from jetlib.units import Told

_WIDTH = 760
_TIMES = np.linspace(0.005, 0.5, 67)
_WAVES = (
    ("slow wave: 700 m/s", "orange", "dashed"),
    ("likely: 1000 m/s", "blue", "solid"),
    ("fast wave: 1300 m/s", "purple", "dashed"),
)


@lru_cache(maxsize=64)
def _point(name, throttle):
    return operating_point(rig_of(name), throttle)


@lru_cache(maxsize=64)
def _peaks(name, throttle):
    return np.array([surge(_point(name, throttle), closing_time=time).peaks[:, -1] for time in _TIMES])


@console()
def surge_console(values, system):
    """A Console: a yard rig, its throttle, and how soon its jets shut; the surge in its last hose."""
    point = _point(values["rig"], values["throttle"])
    found, curves = surge(point, closing_time=values["closing_time"]), _peaks(values["rig"], values["throttle"])
    rated = point.rig.hoses[-1].working_pressure
    most = max(float(_peaks(values["rig"], 1.0).max()), rated or 0.0)
    series = [Series(name, _TIMES, curves[:, at], *look) for at, (name, *look) in enumerate(_WAVES)]
    low, likely, high = (float(each) for each in found.peaks[:, -1])
    time, told = values["closing_time"], Told(system)

    def drawn(width):
        top = 34 if width > NARROW else 70  # for three names above one another
        across = Axis("jets plug within", "time", 0.5, whole=False)
        up = Axis("pressure in the last hose", "pressure", 1.05 * most)
        panel = axes(system, across, up, 66, top, width - 110, 222)
        pieces = [legend(panel, series)]
        if rated is not None:
            pieces.append(level(panel, rated, "rated for", anchor="end"))
        pieces.append(level(panel, point.gauge, "gauge before"))
        now = [curve(panel, each) for each in series]
        now.append(dot(panel, time, likely, panel.told(likely), anchor="end" if time > 0.3 else "start"))
        return chart(panel, width, top + 276, pieces, now)

    ends = dict.fromkeys(told.pressure(each) for each in (low, high))
    span = " to ".join(ends)  # a slow stop is the same for every wave
    words = (
        f"{point.rig.name}, gauge {told.pressure(point.gauge)}: if the jets plug within {told.time(time)}, the last "
        f"hose sees {span}"
    )
    words += "." if rated is None else f"; it is rated for {told.pressure(rated)}. "
    if found.over[-1]:
        words += f"That is over its rating, which surges must not exceed. {STOP_SLOWLY}"
    answers = [Answer("pressure when they stop", likely, "pressure")]
    return stacked(words.strip(), with_narrow(drawn, _WIDTH), answers=answers)
