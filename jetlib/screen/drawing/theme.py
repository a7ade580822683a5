"""Colours and strokes. Each series has a colour, a dash and a marker of its own, so colour never stands alone."""

from functools import cache

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
PRESSURE_STEPS = ("p0", "p1", "p2", "p3", "p4", "p5")
_PRESSURE = {
    "p0": ("#8f8f8f", "#8a8a8a"),
    "p1": ("#5b86b0", "#80a0c3"),
    "p2": ("#4075b5", "#a1cbf9"),
    "p3": ("#6749af", "#baa1fe"),
    "p4": ("#9b2f86", "#ff9ae5"),
    "p5": ("#b3001e", "#ff8080"),
}


#: What was so before, behind what is so now; and motion, which stands still for whoever asked the system for that.
_GONE = (
    ".jl-gone{opacity:.55}.jl-gone *{stroke-dasharray:2 3}.jl-gone text{display:none}"
    ".jl-gone [class^=jl-line]{stroke:#808080 !important}"
    ".jl-gone [class^=jl-ink],.jl-gone .jl-needle{fill:none !important;stroke:#808080 !important;stroke-width:1.5}"
)
#: Of a tile that has a narrow form, a phone shows that.
_FORMS = ".jl-narrow{display:none}@media (max-width:520px){.jl-broad{display:none}.jl-narrow{display:block}}"
MOVES = 4.5  # seconds
_MOVING = (
    "@keyframes jl-run{to{stroke-dashoffset:var(--jl-run)}}.jl-run{animation:jl-run linear infinite}"
    "@keyframes jl-stroke{from{transform:translateY(var(--jl-up))}to{transform:translateY(var(--jl-down))}}"
    ".jl-stroke{animation:jl-stroke ease-in-out alternate}"
)
_STILL = ".jl-run,.jl-stroke{animation-play-state:paused}"


def motion(seconds):
    """CSS of a motion that takes `seconds`, repeated for some seconds after each change.

    Not for ever: that distracts (WCAG 2.2.2 asks for a stop after five seconds) and keeps a slow machine busy.
    """
    seconds = min(max(seconds, 0.05), MOVES)
    return f"animation-duration:{seconds:.2f}s;animation-iteration-count:{max(round(MOVES / seconds), 1)}"


@cache
def moving():
    """CSS that lets water run and plungers go, for a live picture."""
    return f"<style>{_MOVING}@media (prefers-reduced-motion:reduce){{{_STILL}}}</style>"


@cache
def style_sheet():
    """CSS for every picture: classes jl-ink-NAME (text and fill) and jl-line-NAME (stroke), both themes."""
    rules = [_GONE, _FORMS]
    for prefix, dark in (("", 0), ('body[data-jp-theme-light="false"] ', 1)):
        for name, pair in {**COLOURS, **_PRESSURE}.items():
            rules.append(f"{prefix}.jl-ink-{name}{{fill:{pair[dark]}}}")
            rules.append(f"{prefix}.jl-line-{name}{{stroke:{pair[dark]}}}")
    return "<style>" + "".join(rules) + "</style>"


def pressure_step(pressure, full):
    """The name of the step that shows `pressure` against `full`, both Pa."""
    share = 0.0 if full <= 0 else pressure / full
    return PRESSURE_STEPS[int(min(max(share, 0.0), 1.0) * (len(PRESSURE_STEPS) - 1) + 0.5)]
