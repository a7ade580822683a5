"""Colours and strokes. Each series has a colour, a dash and a marker of its own, so colour never stands alone."""

#: Light and dark versions of colours that stay apart for colour-blind eyes (after Okabe and Ito, 2008).
COLOURS = {
    "blue": ("#005f99", "#6cc1f2"),
    "orange": ("#a84300", "#ffab5c"),
    "green": ("#00694c", "#4fd6ae"),
    "purple": ("#8a3a6d", "#e9a3cc"),
    "red": ("#b3001e", "#ff8f8f"),
    "grey": ("#595959", "#b5b5b5"),
}
DASHES = {"solid": "", "dashed": "7 4", "dotted": "2 4", "dash-dot": "9 3 2 3"}

FONT = "system-ui, 'Segoe UI', 'Helvetica Neue', Arial, sans-serif"

#: Pressure from none to full, light and dark theme: one hue family, rising in strength.
PRESSURE_STEPS = ("p0", "p1", "p2", "p3", "p4", "p5")
_PRESSURE = {
    "p0": ("#8f8f8f", "#8a8a8a"),
    "p1": ("#5b86b0", "#7f9fc4"),
    "p2": ("#3f6fb5", "#8fb6f0"),
    "p3": ("#6a4fb0", "#b9a2ff"),
    "p4": ("#9b2f86", "#ff9be6"),
    "p5": ("#b3001e", "#ff8080"),
}


def style_sheet():
    """CSS for every picture: classes jl-ink-NAME (text and fill) and jl-line-NAME (stroke), both themes."""
    rules = []
    for prefix, dark in (("", 0), ('body[data-jp-theme-light="false"] ', 1)):
        for name, pair in {**COLOURS, **_PRESSURE}.items():
            rules.append(f"{prefix}.jl-ink-{name}{{fill:{pair[dark]}}}")
            rules.append(f"{prefix}.jl-line-{name}{{stroke:{pair[dark]}}}")
    return "<style>" + "".join(rules) + "</style>"


def pressure_step(pressure, full):
    """The name of the step that shows `pressure` against `full`, both Pa."""
    share = 0.0 if full <= 0 else pressure / full
    return PRESSURE_STEPS[int(min(max(share, 0.0), 1.0) * (len(PRESSURE_STEPS) - 1) + 0.5)]
