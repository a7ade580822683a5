"""The bench's cards: buttons that write the gauge card or the job card, and say where the paper is."""

from pathlib import Path

import ipywidgets as widgets

from jetlib.errors import JetlibError
from jetlib.screen.bench.entries.entry import SHEET
from jetlib.screen.bench.fields import field_of
from jetlib.screen.bench.pages.compare import table_of
from jetlib.screen.bench.pages.job import plan_of
from jetlib.screen.controls.handed_over import link
from jetlib.screen.controls.pieces import button, row, spoken
from jetlib.units.refusal import page_words


class Cards:
    """Buttons and a line under them. print_card(Rig, Plan or Table, folder, system=, paper=, basis=, unknowns=) writes,
    and gives the paths; changed(entry, text) shows and keeps the bench anew.

    boxes: {page: [widget]}; none where print_card is None.
    """

    def __init__(self, state, store, print_card, changed):
        self.state, self.store, self._print_card = state, store, print_card
        self.said = widgets.HTML()
        self._paper = field_of(SHEET["paper"], lambda typed: changed("paper", typed))
        made = [
            button("Print job card", lambda: self.print(lambda: (plan_of(state), state.shown.words)),
                   hint="Verdict, what to settle, the steps and every number of this job"),
            button("Print gauge card", lambda: self.print(self._of_gauge),
                   hint="What this rig's gauge reads when nothing is wrong, and what another reading means"),
            self._paper.box,
        ]  # fmt: skip
        compared = button("Print the comparison", lambda: self.print(lambda: (table_of(state), state.shown.words)))
        shown = {"job": row(*made), "compare": widgets.HBox([compared])} if print_card else {}
        self.boxes = {page: [widgets.VBox([box, self.said])] for page, box in shown.items()}

    def _of_gauge(self):
        healthy = self.state.healthy
        return healthy.rig, healthy.words, {} if healthy.fit is None else {"unknowns": healthy.unknowns}

    def print(self, of):
        """Write the card of what `of()` gives: a Rig, Plan or Table, where it comes from, and perhaps a dict of what
        else `print_card` should know; say where it is."""
        self.said.value = spoken("Writing the card. If a browser makes a PDF of it, that takes some seconds.")
        try:
            shown, basis, *more = of()
            given = {"system": self.state.system, "paper": self.state.value("paper"), "basis": basis}
            given.update(*more)
            paths = [Path(path) for path in self._print_card(shown, self.store.folder / "cards", **given)]
        except JetlibError as error:
            self.said.value = spoken(f"No card was written: {page_words(error, self.state.system)}")
            return
        listed = " and ".join(str(path) for path in paths)
        words = f"The card is written: {listed}."
        if not any(path.suffix == ".pdf" for path in paths):
            words += " There is no PDF: open the page in your browser and print it from there."
        self.said.value = spoken(words) + link(paths[-1])

    def forget(self):
        """Show the state anew, and no longer what was written of another."""
        self._paper.show(self.state.value("paper"))
        self.said.value = ""
