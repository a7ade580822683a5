"""The bench's answer: the figures that one opens it for, and the verdict, large, on top and always in sight."""

from html import escape

from jetlib.errors import JetlibError
from jetlib.screen.bench.entries.bars import brief
from jetlib.screen.bench.entries.figures import FIGURES
from jetlib.screen.bench.pages.limits import verdict_of
from jetlib.screen.drawing.plan_picture import VERDICTS

#: A verdict in as many words as stand beside the figures; Limits and Job say it whole.
_BRIEFLY = {"no-go": "NO GO", "caution": "SETTLE FIRST", "go": "NOTHING AGAINST IT", "": "NOT WRITTEN YET"}
_NOT_YET = ("", "grey", "?")


def answer_html(state):
    """The answer line of a BenchState; figures that cannot be had are dashes."""
    try:
        figures = [brief(each.of(state.point), each.kind, state.system) for each in FIGURES]
        verdict = verdict_of(state)
    except JetlibError:
        figures, verdict = ["–"] * len(FIGURES), ""
    _, colour, mark = VERDICTS.get(verdict, _NOT_YET)
    cells = [_cell(each.label, shown) for each, shown in zip(FIGURES, figures, strict=True)]
    cells.append(_cell("verdict: see Limits", f"{mark} {_BRIEFLY[verdict]}", f"jl-{colour}"))
    at = f"{100 * state.value('throttle'):.0f} % throttle"
    return f'<div class="jl-answer" role="group" aria-label="Answer at {at}">{"".join(cells)}</div>'


def _cell(label, shown, ink=""):
    return f'<div><span>{escape(label)}</span><b class="{ink}">{escape(shown)}</b></div>'
