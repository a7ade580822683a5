"""Slips to cut out, one for each seat: its number, and how its learner hands in what was done."""

from jetlib.paper.page.document import INJECTION, MANUAL, Document, Section, require
from jetlib.paper.page.style import caution, fill
from jetlib.paper.sheets.answers import checked_seats

_HAND_IN = (
    "At the end of the day: start page, type “seat {0}” as your label, press “Export for the trainer”, and give the "
    "file to your trainer. No name stands in it."
)


def seat_slips(seats, *, system="US", paper="A4"):
    """The Document with a slip for each of `seats`. Raises JetlibError."""
    require(system, paper)
    made = (
        f'<div class="slip"><h3>Seat {seat}</h3><p>{fill("plain", words=_HAND_IN.format(seat))}</p></div>'
        for seat in range(1, checked_seats(seats) + 1)
    )
    body = caution(INJECTION, MANUAL) + f'<div class="slips">{"".join(made)}</div>'
    section = Section(
        "Slips for the seats", body, "the seats, counted", None, "Cut along the lines; one for each seat."
    )
    return Document(f"slips-{seats}-{system.lower()}", (section,), system, paper)
