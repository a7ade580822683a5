"""The job drawn: gauge, tank, the hose in the pipe up to its mark, and the words of all that is seen."""

from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.rig.uncertainty.band import usual_full_scale
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.gauge import pressure_gauge
from jetlib.screen.drawing.large import share_bar
from jetlib.screen.drawing.picture import Picture
from jetlib.units import from_si
from jetlib.units import text as words_of

WIDTH, HEIGHT = 560, 340
_LEFT, _SPAN = 285, 265


def job_picture(play, system):
    """The Picture of a Play on the job, at its last Moment."""
    seen, rig = play.moments[-1].seen, play.plan.rig
    setting = None if rig.unloader is None else rig.unloader.setting
    engine = "engine off" if seen.throttle is None else throttle_name(seen.throttle)
    gauge = _rounded(seen.gauge, system)
    dial = pressure_gauge(135, 140, 112, seen.gauge, usual_full_scale(rig), system, setting=setting, inside=(engine,))
    parts = [dial, text(135, 310, gauge, size=38, anchor="middle", weight="bold")]
    run = float(play.plan.job.drain.length)
    told = (
        ("Tank", f"{100 * seen.level:.0f} %", seen.level, "blue"),
        ("Hose in the pipe", words_of(seen.mark, "length", system, 2), seen.mark / run, "green"),
    )
    for at, (name, figure, share, color) in enumerate(told):
        y = 30 + 76 * at
        parts += [
            text(_LEFT, y, name, size=18),
            text(_LEFT + _SPAN, y, figure, size=24, anchor="end", weight="bold"),
            share_bar(_LEFT, y + 10, _SPAN, 24, share, color, hatched=color == "green"),
        ]
    returns = {None: (), True: ("water returns to the tank",), False: ("no water returns",)}[seen.returns]
    for at, words in enumerate((f"engine {seen.sound}", *returns, f"minute {play.minutes:.0f}")):
        parts.append(text(_LEFT, 192 + 36 * at, words, size=18))
    return Picture("".join(parts), WIDTH, HEIGHT, job_words(play, system))


def job_words(play, system):
    """All that is seen, in sentences."""
    seen = play.moments[-1].seen
    if seen.throttle is None:
        state = "The engine is off" + (", the pressure relieved" if play.relieved else ", the pressure not relieved")
    else:
        state = f"{throttle_name(seen.throttle).capitalize()}, the engine {seen.sound}"
    place = (
        f"{words_of(seen.mark, 'length', system, 2)} of hose in the pipe" if play.inside else "the nozzle is outside"
    )
    returns = "" if seen.returns is None else ", water returns to the tank" if seen.returns else ", no water returns"
    return (
        f"{state}. Gauge {_rounded(seen.gauge, system)}{returns}. {place[0].upper()}{place[1:]}. Tank "
        f"{100 * seen.level:.0f} %. At the opening: {seen.back or 'nothing'}. Minute {play.minutes:.0f}."
    )


def _rounded(gauge, system):
    """A gauge as a needle can be read: by 10 psi, or by 1 bar."""
    step = 10.0 if system == "US" else 1.0
    return f"{step * round(from_si(gauge, 'pressure', system) / step):.0f} {'psi' if system == 'US' else 'bar'}"
