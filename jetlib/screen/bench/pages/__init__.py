"""The pages of the bench: what follows from the rig and from what is typed beside it."""

from collections.abc import Callable
from typing import NamedTuple


class Page(NamedTuple):
    """A page: the entries of the sheet on it, and draw(state), a Picture of a BenchState.

    actions: buttons, (words, what a press does to the state: it gives a sentence). below(state): HTML under the
    picture. by_check: each entry stands under the check it is of. cards: what can be printed, (words, hint, of), where
    of(state) gives a Rig, Plan or Table and the Known rig that it rests on.
    """

    entries: tuple
    draw: Callable
    actions: tuple = ()
    below: Callable = lambda state: ""
    by_check: bool = False
    cards: tuple = ()
