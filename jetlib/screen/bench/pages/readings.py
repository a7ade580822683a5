"""The bench's readings: what they say about the rig, what they can't, which does not fit the others, what is wrong."""

from jetlib.rig.change.factors import UNMEASURED, USED, Knowledge
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.parts.part import remembered
from jetlib.screen.bench.entries.entry import READINGS
from jetlib.screen.bench.entries.figures import WIDTH
from jetlib.screen.bench.entries.state import BenchState, readings_of, tells
from jetlib.screen.bench.pages import Page
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.diagnosis_picture import diagnosis_picture
from jetlib.screen.drawing.grid import as_lines, grid, notice
from jetlib.screen.drawing.picture import stacked
from jetlib.units import text as words_of

_NAMES = {
    "jet_area": "effective area of the jets",
    "hose_loss": "loss in the hose",
    "pump_flow": "pump's flow",
    "valve_setting": "valve setting",
}
_MIDDLE, _SPAN = 480, 150
_WORN_OR_ALWAYS = (
    "Worn, or always so? If something may be worn or wrong, leave it: the healthy rig and its gauge card stay as they "
    "are. If all was well when you read this, press All was well."
)


def draw(state):
    """The Picture of what the readings of a BenchState say."""
    found, system, healthy = state.calibration, state.system, f"Healthy rig: {state.healthy.words}."
    if found is None:
        words = (
            f"{healthy} Nothing is read today. Write what the gauge shows at idle, half and full throttle; "
            "a flow test timed by the tank level tells more."
        )
        return stacked(words, notice("Nothing is read today", WIDTH, colour=""))
    words = " ".join((healthy, *found.sentences))
    if state.healthy.fit is not None:
        words = words.replace("what is written down", "the healthy rig")
    if state.shown.today:
        words += " The other pages show the rig as it reads today; the gauge card stays with the healthy rig."
    elif tells(found):
        words += f" {_WORN_OR_ALWAYS}"
    else:
        words += " The other pages stay with the healthy rig."
    return stacked(words, _factors(found), _residuals(found, system))


PAGE = Page(
    (*READINGS, "read_on", "use_fit"),
    draw,
    actions=(
        ("All was well: keep as healthy", BenchState.keep_as_healthy),
        ("Forget the healthy readings", BenchState.forget_healthy),
    ),
    by_check=True,
)


def _factors(found):
    """Each factor against what is written down, with nine chances in ten: a tile."""
    lines, parts = [], [text(14, 20, "Against the healthy rig (bar: nine chances in ten)", weight="bold")]
    reach = max([0.1, *(abs(end - 1.0) for each in found.factors.values() if each.fitted for end in each.interval())])
    for number, (name, factor) in enumerate(found.factors.items()):
        y = 46 + 24 * number
        parts.append(text(14, y, _NAMES[name]))
        if not factor.fitted:
            parts.append(text(232, y, f"cannot be said: {factor.why}", colour="grey"))
            lines.append((_NAMES[name], f"cannot be said: {factor.why}", ""))
            continue
        low, high = (_MIDDLE + _SPAN * (end - 1.0) / reach for end in factor.interval())
        at = _MIDDLE + _SPAN * (factor.value - 1.0) / reach
        off, error = f"{100 * (factor.value - 1.0):+.1f} %".replace("-", "−"), f"± {164.5 * factor.error:.1f} %"
        lines.append((_NAMES[name], off, error))
        parts += [
            text(320, y, off, anchor="end", weight="bold"),
            f'<path class="jl-line-grey" d="M{_MIDDLE} {y - 14}v18" stroke-width="1.2"/>',
            f'<path class="jl-line-blue" d="M{low:.1f} {y - 5}H{high:.1f}" stroke-width="7" stroke-opacity="0.4"/>',
            f'<circle class="jl-ink-blue" cx="{at:.1f}" cy="{y - 5}" r="5"/>',
            text(646, y, error),
        ]
    narrow = as_lines(("", "against the healthy rig", "nine chances in ten"), lines)
    return "".join(parts), WIDTH, 46 + 24 * len(found.factors), narrow


def _residuals(found, system):
    """What was read beside what the fitted rig would read, a tile."""
    rows, odd = [], []
    for place, (reading, predicted) in enumerate(zip(found.readings, found.predicted, strict=True)):
        if predicted is None:
            rows.append((reading.label, reading.shown, "", ""))
            continue
        verdict = "fits" if abs(found.residuals[place]) < 2.0 else "does not fit"
        if place == found.wild or place in found.suspects:
            verdict = "DOES NOT FIT: left out" if place == found.wild else "MAY BE THE WRONG ONE"
            odd.append(place)
        read, shown = (words_of(max(value, 0.0), reading.kind, system) for value in (reading.value, predicted))
        rows.append((reading.label, read, shown, verdict))
    heads = ("reading", ">read", ">fitted rig reads", "")
    return grid(heads, rows, (22, 370, 500, 520), width=WIDTH, chosen=odd[0] if odd else None)


# --- what is wrong ----------------------------------------------------------------------------------

_KNOWN = {"card": Knowledge(), "sizes": UNMEASURED, "old": USED}


def draw_wrong(state):
    """The Picture of the Diagnosis of a BenchState: of the healthy rig against what was read today."""
    healthy = state.healthy
    known = _KNOWN[state.value("known")] if healthy.fit is None else healthy.fit.spread
    return diagnosis_picture(_diagnosis(healthy.rig, state.read_texts, known), state.system)


@remembered(8)
def _diagnosis(rig, texts, known):
    return diagnose(rig, list(readings_of(texts).values()), spread=known)


WRONG = Page((*READINGS, "known"), draw_wrong, by_check=True)
