"""The bench: a technician's own rig, typed in or loaded, and everything that is worked out from it, live."""

from collections.abc import Callable
from functools import cache, partial
from html import escape
from pathlib import Path

import ipywidgets as widgets

from jetlib.course.store.bench_store import ANOTHER_OPEN, BenchStore
from jetlib.errors import JetlibError
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.screen.bench.entries import form as forms
from jetlib.screen.bench.entries.entry import SHEET
from jetlib.screen.bench.entries.figures import FIGURES
from jetlib.screen.bench.entries.state import BenchState, is_bench
from jetlib.screen.bench.fields import RigEditor, by_check, echo_of, field_of, in_columns, sheet_field, sheet_shown
from jetlib.screen.bench.pages import compare, hose, jets, job, readings
from jetlib.screen.bench.pages import map as the_map
from jetlib.screen.bench.shelf import Shelf
from jetlib.screen.controls.fields import ChoiceField, Quiet
from jetlib.screen.controls.pieces import bundle, button, heading, link, named, row, spoken
from jetlib.screen.controls.units_choice import follow
from jetlib.screen.drawing.picture import Picture
from jetlib.screen.drawing.plan_picture import VERDICTS
from jetlib.screen.drawing.theme import COLOURS
from jetlib.tables.atomic import Unwritable
from jetlib.units.refusal import page_words

_PAGES = {
    "map": the_map.PAGE, "jets": jets.PAGE, "hose": hose.PAGE, "compare": compare.PAGE, "readings": readings.PAGE,
    "wrong": readings.WRONG, "limits": job.LIMITS, "job": job.JOB,
}  # fmt: skip
_FRAME = {"border": "1px solid var(--jp-border-color1, #bdbdbd)", "padding": "0 8px 8px", "max_width": "1400px"}
#: A verdict in as many words as stand beside the figures; Limits and Job say it whole.
_BRIEFLY = {"no-go": "NO GO", "caution": "SETTLE FIRST", "go": "NOTHING AGAINST IT", "": "NOT WRITTEN YET"}
_STEPS = 100
_NOTHING = Picture("", 760, 20, "There is nothing to show here yet.")


def open_bench(print_card: Callable | None = None) -> "Bench":
    """The Bench, as it stood when it was last used on this machine. print_card: see Bench."""
    return Bench(print_card=print_card)


class Bench(Quiet):
    """Rig and sheet on the left and above, one page of what follows from them on the right.

    state: the BenchState. picture: the Picture on show, the last good one where the present entries allow none. What
    is typed is written to `store` at once. print_card(Rig, Plan or Table, folder, system=, paper=, basis=, unknowns=):
    writes a card and gives the paths, such as `jetlib.paper.print_card`; without it there is no button for it.
    """

    def __init__(self, store=None, print_card=None):
        self.store = BenchStore() if store is None else store
        held, words = self.store.now(is_bench)
        self.state, self.picture = BenchState(held), None
        self.state.use_units(follow(self))
        self.shelf = Shelf(self.state, self.store, self._say, self._changed)
        self._print_card, self._printed = print_card, widgets.HTML()
        self._kept = compare.Kept(self.state, self.shelf, self._act)
        self._pages, self._pictures = {}, {}
        self._editor = RigEditor(self.state, self._changed)
        self._answer, self._image, self._words = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self._status, self._alert = widgets.HTML(), widgets.HTML()
        self._page = widgets.VBox(layout={"width": "100%"})
        self.box = self._laid_out()
        self._changed(" ".join(words), keep=False)

    @property
    def words(self):
        """The sentences now on screen."""
        return self.picture.words

    # --- laid out ---------------------------------------------------------------------------------

    def _laid_out(self):
        self._tabs = widgets.ToggleButtons(options=SHEET["tab"].options, layout={"width": "auto"})
        self._tabs.style.button_width = "auto"
        self.heard(self._tabs, partial(self.type, "tab"))
        self._open = ChoiceField("Open", self.shelf.options(), self._opened, width="470px")
        steps = [
            button("New rig", lambda: self._opened("new/rig"), hint="Nothing filled in"),
            button("Undo", partial(self._act, BenchState.undo), hint="Back one step"),
            button("Reset", partial(self._act, BenchState.reset),
                   hint="The rig as it was opened, with all entries cleared"),
        ]  # fmt: skip
        self._more = sheet_field("more", self.type)
        self._throttle = field_of(SHEET["throttle"], partial(self.type, "throttle"), width="180px")
        self._paper = field_of(SHEET["paper"], partial(self.type, "paper"))
        self._slider = widgets.IntSlider(
            min=0, max=_STEPS, readout=False, layout={"width": "340px", "max_width": "98%"}
        )
        self.heard(self._slider, lambda step: self.type("throttle", f"{100 * step / _STEPS:g} %"))
        files = row(self._open.box, *steps, self.shelf.opener, self._more.box)
        result = widgets.VBox([
            self._status,
            row(self._throttle.box, self._slider),
            self._tabs, self._alert, self._page, self._image, self._words,
        ])  # fmt: skip
        both = widgets.VBox([self._editor.box, named(result, "jl-result")])
        top = named(widgets.VBox([self._answer]), "jl-top")
        whole = [widgets.HTML(heading("Bench") + _style()), top, files, self.shelf.box, named(both, "jl-both")]
        return named(widgets.VBox(whole, layout=_FRAME), "jl-bench")

    def _page_fields(self, tab):
        """({entry: field}, box) of a page, made when it is first shown."""
        if tab not in self._pages:
            page = _PAGES[tab]
            fields = {name: sheet_field(name, self.type) for name in page.entries}
            boxes = by_check(fields) if page.by_check else in_columns(fields)
            actions = [button(words, partial(self._act, action)) for words, action in page.actions]
            boxes += actions if len(actions) < 2 else [row(*actions)]
            boxes += [self._kept.box] if tab == "compare" else []
            if page.cards and self._print_card:
                cards = [button(words, partial(self._print, of), hint=hint) for words, hint, of in page.cards]
                boxes.append(widgets.VBox([row(*cards, *([self._paper.box] if tab == "job" else [])), self._printed]))
            self._pages[tab] = (fields, widgets.VBox(boxes))
        return self._pages[tab]

    # --- what is done -----------------------------------------------------------------------------

    def type(self, name, typed):
        """Something was typed or chosen in an entry of the sheet, by the reader or from code."""
        self.state.type_sheet(name, typed)
        self._changed("")

    def type_rig(self, part, number, name, typed):
        """Type at an entry of the rig, from code; number: None where there is one of it."""
        self.state.type_rig((part, number, name), typed)
        self._changed("")

    def use_units(self, system):
        """Word everything in "US" or "metric"."""
        self.state.use_units(system)
        self._changed("")

    def _opened(self, key):
        if key:
            self._pictures.clear()  # they are of another rig
            self._changed(self.shelf.open(key))
            self._editor.go_on()

    def _act(self, action):
        try:
            words = action(self.state)
        except JetlibError as error:
            words = f"That cannot be done: {page_words(error, self.state.system)}"
        self._changed(words)

    def _print(self, of):
        """Write the card of what `of(state)` gives, and say where it is."""
        self._printed.value = spoken("Writing the card. If a browser makes a PDF of it, that takes some seconds.")
        system, paper = self.state.system, self.state.value("paper")
        try:
            shown, known = of(self.state)
            given = {"system": system, "paper": paper, "basis": known.words, "unknowns": known.unknowns}
            paths = [Path(path) for path in self._print_card(shown, self.store.folder / "cards", **given)]
        except JetlibError as error:
            self._printed.value = spoken(f"No card was written: {page_words(error, system)}")
            return
        words = f"The card is written: {' and '.join(map(str, paths))}."
        if not any(path.suffix == ".pdf" for path in paths):
            words += " There is no PDF: open the page in your browser and print it from there."
        self._printed.value = spoken(words) + link(paths[-1])

    # --- what is shown ----------------------------------------------------------------------------

    def _changed(self, words, keep=True):
        """Show the state anew: entries, page, picture; then keep it."""
        with self.quietly():
            self._show()
        self._draw()
        self._printed.value = ""  # what was written is of another state
        if keep:
            try:
                told = self.store.keep(self.state.held)
            except Unwritable as problem:
                words = f"{words} Not kept on this machine: {problem}. Save the rig to a file before you leave."
            else:
                words = " ".join([words, *told])
        self._say(words, listed=words.endswith(ANOTHER_OPEN))

    def _show(self):
        state, tab = self.state, self.state.value("tab")
        self._editor.show()
        self._open.show("")
        self._tabs.value = tab
        fields, box = self._page_fields(tab)
        always = {"more": self._more, "throttle": self._throttle, "paper": self._paper}
        for name, field in {**fields, **always}.items():
            sheet_shown(field, name, state)
        self._slider.value = round(_STEPS * state.value("throttle"))
        if tab == "compare":
            self._kept.show()
        self._page.children = (box,)

    def _draw(self):
        state, tab = self.state, self.state.value("tab")
        pending = forms.pending_places(state.form) or state.held["pending"]
        alerts = ["An entry marked Not used is left out of everything you see."] if pending else []
        try:
            self.picture = self._pictures[tab] = _PAGES[tab].draw(state)
            more = _PAGES[tab].below(state)
            # What is wrong is asked of the healthy rig, and so are its cautions: there a fit would be of a sound rig.
            known = state.healthy if tab == "wrong" else state.shown
            alerts += [each.removesuffix(SEE_THE_MANUAL).strip() for each in state.point_of(known.rig).cautions]
        except JetlibError as error:
            told = "" if forms.missing(state.form) else "This cannot be calculated: "
            alerts.append(told + page_words(error, state.system))
            self.picture, more = self._pictures.get(tab, _NOTHING), ""
        self._answer.value = _answer_html(state)
        self._image.value = f'<div class="jl-fit" style="overflow-x:auto">{self.picture.live()}</div>'
        assumed = "; ".join(forms.assumed(state.form, self._in_own_units))
        told = spoken(f"Assumed until you write it: {assumed}.") if assumed else ""
        self._words.value = more + spoken(self.picture.words) + told
        ink = "color:var(--jp-error-color1, #b3001e);line-height:1.4;max-width:820px"
        told = "".join(f"<div>⚠ {escape(each)}</div>" for each in dict.fromkeys(alerts))
        self._alert.value = f'<div role="alert" style="{ink}">{told}</div>' if told else ""

    def _in_own_units(self, typed, kind):
        """A text in the reader's units; roughness stays in mm, as nobody says it in inches."""
        return "" if kind == "roughness" else echo_of(typed, kind, self.state.system).removeprefix("= ")

    def _say(self, words, listed=False):
        if listed:
            self._open.relist(self.shelf.options())
            self.shelf.relist()
        self._status.value = spoken(words.strip()) if words.strip() else ""

    def _repr_mimebundle_(self, include=None, exclude=None):
        return bundle(self.box, self.picture.words, self.picture.image())


def _answer_html(state):
    """The figures that one opens the bench for, and the verdict, large; figures that cannot be had are dashes."""
    try:
        figures = [each.shown(state.point, state.system) for each in FIGURES]
        verdict = job.verdict_of(state)
    except JetlibError:
        figures, verdict = ["–"] * len(FIGURES), ""
    _, colour, mark = VERDICTS.get(verdict, ("", "grey", "?"))
    cells = [(each.label, shown, "") for each, shown in zip(FIGURES, figures, strict=True)]
    cells.append(("verdict: see Limits", f"{mark} {_BRIEFLY[verdict]}", f"jl-{colour}"))
    told = "".join(f'<div><span>{each}</span><b class="{ink}">{escape(shown)}</b></div>' for each, shown, ink in cells)
    at = f"{100 * state.value('throttle'):.0f} % throttle"
    return f'<div class="jl-answer" role="group" aria-label="Answer at {at}">{told}</div>'


@cache
def _style():
    """The style sheet of the bench, HTML."""
    rules = [Path(__file__).with_name("bench.css").read_text("utf-8")]
    for theme, dark in (("", 0), ('body[data-jp-theme-light="false"] ', 1)):
        rules += [f"{theme}.jl-bench .jl-{name} {{color: {pair[dark]}}}" for name, pair in COLOURS.items()]
    return f"<style>{''.join(rules)}</style>"
