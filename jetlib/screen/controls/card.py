"""A card of a page: worded in the units of the reader, with a line that says what came of what was done."""

from contextlib import contextmanager

import ipywidgets as widgets

from jetlib.errors import JetlibError
from jetlib.screen.controls.fields import Quiet
from jetlib.screen.controls.pieces import heading, spoken
from jetlib.screen.controls.units_choice import follow
from jetlib.screen.drawing.large import BORDER, CLASS, STYLE
from jetlib.tables.atomic import Unwritable
from jetlib.units.refusal import page_words


class Card(Quiet):
    """What is on it is drawn anew by `_show()`; it says things by `_say`, in the widget `_said`."""

    def __init__(self, system):
        self.system, self._said = follow(self, system), widgets.HTML(spoken(""))

    def use_units(self, system):
        """Word everything in "US" or "metric"."""
        self.system = system
        self._show()

    def _show(self):
        """Nothing on it has units, unless this is overridden."""

    def _say(self, words, status=""):
        self._said.value = spoken(words, status)

    @contextmanager
    def _refusing(self, words="{}", status=""):
        """Say why not where what is done inside is refused, or cannot be kept; words: with "{}" for the reason."""
        try:
            yield
        except (JetlibError, Unwritable) as error:
            self._say(words.format(page_words(error, self.system)), status)


def room_card(title, *parts):
    """The box of a card for a room: its title, then widgets under one another, in larger type."""
    box = widgets.VBox([widgets.HTML(STYLE + heading(title)), *parts], layout=BORDER)
    box.add_class(CLASS)
    return box
