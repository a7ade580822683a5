"""One choice of units for the whole course, and all that follows it on a page.

What is worded in units calls `follow(self)` while it is made, and has a method `use_units(system)`. The choice is kept
with the progress; a switch on the page, the bar above it or a call of `use_units` changes it.
"""

from weakref import WeakSet

import ipywidgets as widgets

from jetlib.course.progress.choices import choices, choose
from jetlib.errors import JetlibError
from jetlib.screen.controls.pieces import bundle, framed, paragraphs
from jetlib.tables.atomic import Unwritable
from jetlib.units import SYSTEMS

_WORDS = {"US": "gpm, psi, ft", "metric": "L/min, bar, m"}
_followers = WeakSet()
_unkept = []  # the choice, where it cannot be kept on disk


def units_now():
    """The unit system that the reader has chosen, "US" until then."""
    return _unkept[0] if _unkept else choices().get("units", SYSTEMS[0])


def follow(console, system=None):
    """The unit system to begin in: the reader's, unless one is given. From now on `use_units` reaches it too."""
    _followers.add(console)
    return system or units_now()


def use_units(system: str) -> None:
    """Choose "US" or "metric" for the whole course, and word everything on this page in it. Raises JetlibError."""
    if not isinstance(system, str) or system not in SYSTEMS:
        raise JetlibError(f"units are {str(system)[:40]!r}; write one of {', '.join(SYSTEMS)}")
    _unkept.clear()
    if system != units_now():
        try:
            choose(units=system)
        except (Unwritable, OSError):
            _unkept.append(system)
    for console in tuple(_followers):
        console.use_units(system)


def units_choice() -> "UnitsChoice":
    """The UnitsChoice of the page."""
    return UnitsChoice()


class UnitsChoice:
    """The one switch of a page. The course's own bar has one too; where that is shown, this one is not."""

    def __init__(self):
        options = [(f"{system}: {words}", system) for system, words in _WORDS.items()]
        self.box = widgets.ToggleButtons(options=options, value=follow(self), description="Units")
        self.box.style.button_width = "190px"
        self.box.add_class("course-follows")
        self.box.observe(lambda change: use_units(change["new"]), names="value")

    def use_units(self, system):
        """Show which is chosen."""
        self.box.value = system

    def _repr_mimebundle_(self, include=None, exclude=None):
        words = f"Numbers are shown in US units ({_WORDS['US']}). Run this page to see them in metric units too."
        return bundle(self.box, words, f'<div class="course-follows">{framed(paragraphs(words))}</div>')


class Following:
    """What stands on a page in the reader's units: `made(system)` gives something with plain text and HTML.

    shown: what was made last.
    """

    def __init__(self, made, system=None):
        self.made, self.box = made, widgets.HTML()
        self.use_units(follow(self, system))

    def use_units(self, system):
        """Word it in "US" or "metric"."""
        self.shown = self.made(system)
        self.box.value = self.shown._repr_html_()

    def _repr_mimebundle_(self, include=None, exclude=None):
        return bundle(self.box, repr(self.shown), self.box.value)
