"""Colours and strokes. Each series has a colour, a dash and a marker of its own, so colour never stands alone."""

from functools import cache
from pathlib import Path

#: Light and dark versions of colours that stay apart for colour-blind eyes (after Okabe and Ito, 2008).
COLOURS = {
    "blue": ("#005f99", "#6cc1f2"),
    "orange": ("#a84300", "#ffab5c"),
    "green": ("#036f47", "#57deb4"),
    "purple": ("#883a71", "#f4aed7"),
    "red": ("#b20325", "#fe908e"),
    "grey": ("#5a5859", "#a0adad"),
}
DASHES = {"solid": "", "dashed": "7 4", "dotted": "2 4", "dash-dot": "9 3 2 3"}

FONT = "system-ui, 'Segoe UI', 'Helvetica Neue', Arial, sans-serif"

#: Pressure from none to full, light and dark theme: one hue family, rising in strength.
_PRESSURE = {
    "p0": ("#8f8f8f", "#8a8a8a"),
    "p1": ("#5b86b0", "#80a0c3"),
    "p2": ("#4075b5", "#a1cbf9"),
    "p3": ("#6749af", "#baa1fe"),
    "p4": ("#9b2f86", "#ff9ae5"),
    "p5": ("#b3001e", "#ff8080"),
}
PRESSURE_STEPS = tuple(_PRESSURE)

MOVES = 4.5  # seconds


@cache
def sheet(name):
    """The style sheet of that name in this folder, one line without its comments."""
    lines = Path(__file__).with_name(name).read_text("utf-8").splitlines()
    return "".join(line for line in lines if not line.startswith("/*"))


def motion(seconds):
    """CSS of a motion that takes `seconds`, repeated for some seconds after each change.

    Not for ever: that distracts (WCAG 2.2.2 asks for a stop after five seconds) and keeps a slow machine busy.
    """
    seconds = min(max(seconds, 0.05), MOVES)
    return f"animation-duration:{seconds:.2f}s;animation-iteration-count:{max(round(MOVES / seconds), 1)}"


@cache
def moving():
    """CSS that lets water run and plungers go, for a live picture."""
    return f"<style>{sheet('moving.css')}</style>"


@cache
def style_sheet():
    """CSS for every picture: classes jl-ink-NAME (text and fill) and jl-line-NAME (stroke), both themes."""
    rules = [sheet("picture.css")]
    for prefix, dark in (("", 0), ('body[data-jp-theme-light="false"] ', 1)):
        for name, pair in {**COLOURS, **_PRESSURE}.items():
            rules.append(f"{prefix}.jl-ink-{name}{{fill:{pair[dark]}}}")
            rules.append(f"{prefix}.jl-line-{name}{{stroke:{pair[dark]}}}")
    return "<style>" + "".join(rules) + "</style>"


def pressure_step(pressure, full):
    """The name of the step that shows `pressure` against `full`, both Pa."""
    share = 0.0 if full <= 0 else pressure / full
    return PRESSURE_STEPS[int(min(max(share, 0.0), 1.0) * (len(PRESSURE_STEPS) - 1) + 0.5)]
