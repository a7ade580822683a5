"""The bench's hose what-if: the present rig A beside B with a section swapped, hose added, or all off the reel."""

from jetlib.errors import JetlibError
from jetlib.rig.jets.matching import matched_jets
from jetlib.rig.parts.machine import Hose
from jetlib.rig.point.operating_point import operating_point
from jetlib.screen.bench.entries import form as forms
from jetlib.screen.bench.entries.entry import SHEET
from jetlib.screen.bench.entries.figures import FIGURES, MORE, WIDTH, bar, change_words
from jetlib.screen.bench.pages import Page
from jetlib.screen.bench.pages.compare import Column, curves
from jetlib.screen.bench.pages.map import begins, pressure_shares
from jetlib.screen.drawing.chart import text
from jetlib.screen.drawing.grid import as_lines
from jetlib.screen.drawing.picture import stacked
from jetlib.units import Told

_ENTRIES = ("section", "swap_bore", "swap_length", "add_length", "add_bore", "add_place", "off_reel")
_NEAR = 0.03  # of the matched area: nearer than that no drill comes


def other_hoses(state, hoses):
    """(hoses of B, what was done in words). JetlibError where a change names a section that is not there."""
    value, made, done = state.value, list(hoses), []
    bore, length = value("swap_bore"), value("swap_length")
    if value("section"):
        at = int(value("section")) - 1
        if at >= len(made):
            raise JetlibError(f"there is no section {at + 1}; the line has {len(made)}")
        if bore or length:
            made[at], words = _swapped(made[at], bore, length), []
            words += [f"bore {_text(state, 'swap_bore')}"] if bore else []
            words += [f"{_text(state, 'swap_length')} long"] if length else []
            done.append(f"section {at + 1} {' and '.join(words)}")
    if value("add_length"):
        end = value("add_place") == "end"
        like = value("add_bore") or (made[-1 if end else 0].bore if made else None)
        if like is None:
            raise JetlibError("type the bore of the hose you add, such as 3/8 in")
        made.insert(len(made) if end else 0, Hose(like, value("add_length"), name="added"))
        done.append(f"{_text(state, 'add_length')} added at the {'nozzle' if end else 'pump'}")
    if value("off_reel"):
        made = [hose.replace(coil_diameter=None, coiled_length=0.0) for hose in made]
        done.append("all off the reel")
    return tuple(made), ", ".join(done)


def _text(state, name):
    return state.held["sheet"][name]


def _swapped(hose, bore, length):
    """`hose` of another bore or length; what is not known of another hose, its rating say, is left open."""
    long = {"length": length, "coiled_length": min(hose.coiled_length, length)} if length else {}
    if not bore or bore == hose.bore:
        return hose.replace(**long)
    unknown = dict.fromkeys(("end_bore", "working_pressure", "mass_per_metre", "bend_radius"))
    return hose.with_bore(bore, **unknown, **long)


def make_mine(state):
    """Put B on the bench as the rig; a sentence for the reader."""
    hoses, done = other_hoses(state, state.rig.hoses)
    if not done:
        return "B is the same as A: swap a hose, add one, or take hose off the reel first."
    if len(hoses) > forms.MOST["hoses"]:
        return "The bench holds ten sections of hose: remove one first."
    form = forms.form_of(state.rig.replace(hoses=hoses), state.system)
    start = {name: SHEET[name].start for name in _ENTRIES}
    state.take_form({**state.form, "hoses": form["hoses"]}, **start)
    return f"On the rig now: {done}. Undo brings the old hose back."


# --- picture ----------------------------------------------------------------------------------------


def draw(state):
    """The Picture of the what-if of a BenchState."""
    system, rig, told = state.system, state.shown.rig, Told(state.system)
    hoses, done = other_hoses(state, rig.hoses)
    other = rig.replace(hoses=hoses)
    points = (state.point, operating_point(other, state.value("throttle")))
    rows = [_compared(each, points, system) for each in (*FIGURES, MORE[0])]
    rows.append(("bypass begins", *(begins(each) for each in (rig, other)), "", "grey"))
    name = done or "no change yet"
    said = "; ".join(f"{row[0]} {row[1]} in A, {row[2]} in B" + (f", {row[3]}" if row[3] else "") for row in rows)
    words = f"At {100 * state.value('throttle'):.0f} % throttle, A as it is and B with {name}: {said}."
    if done:
        unrated = [f"section {at}" for at, hose in enumerate(hoses, start=1) if hose.working_pressure is None]
        if unrated:
            words += f" No working pressure is given for {', '.join(unrated)} of B: read it on the hose."
        words += " ".join([_refit(other), *(f"B: {caution}" for caution in points[1].cautions)])
    bars = [
        bar(f"{letter}: where the {told.pressure(point.gauge)} go", pressure_shares(point), told.pressure)
        for letter, point in zip("AB", points, strict=True)
    ]
    shown = [Column("A, as it is", rig, points[0]), Column("B", other, points[1])]
    return stacked(words, _table(rows, name), curves(shown, system), *bars)


PAGE = Page(_ENTRIES, draw, (("Make B my rig", make_mine),))


def _refit(rig):
    """What jets the rig with the other hose wants, too small or too large as its own are; a sentence."""
    try:
        match = matched_jets(rig)
    except JetlibError:
        return ""
    share = rig.nozzle.effective_area / match.effective_area if match.possible else 1.0
    if abs(share - 1.0) < _NEAR:
        return f" {match.advice}" if not match.possible else " Its jets match."
    way, more = ("small", "the valve opens early") if share < 1.0 else ("large", "the gauge stays low")
    return f" Its jets are too {way} for B by {100 * abs(share - 1.0):.0f} % of their area ({more}). {match.advice}"


def _compared(figure, points, system):
    one, other = (float(figure.of(point)) for point in points)
    change = change_words(one, other, figure.kind, system)
    colour = "grey" if change == "the same" else "orange" if other > one else "purple"
    return figure.label, *(figure.shown(point, system) for point in points), change, colour


def _table(rows, name):
    heads = (("", 14, "start"), ("A, as it is", 250, "end"), (f"B, {name}", 274, "start"))
    parts = [text(x, 18, words, anchor=side, weight="bold") for words, x, side in heads]
    parts.append('<path d="M14 25H746" stroke="currentColor"/>')
    for number, (label, one, other, change, colour) in enumerate(rows):
        y = 44 + 21 * number
        mark = {"orange": "▲ ", "purple": "▼ "}.get(colour, "")
        parts += [text(14, y, label), text(250, y, one, anchor="end", colour="blue")]
        parts += [text(350, y, other, anchor="end", colour="orange", weight="bold")]
        parts.append(text(374, y, mark + change, colour="" if colour == "grey" else colour))
    heads = ("", "A, as it is:", "B:", "")
    lines = as_lines(heads, [row[:4] for row in rows])
    return "".join(parts), WIDTH, 40 + 21 * len(rows), lines
