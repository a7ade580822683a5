"""Things to print: handouts, answer keys, sheets for a room, gauge cards, tables, drills and job cards of a rig.

Each function gives a Document, or a pair of them; `write` puts one on disk as HTML, and as PDF by a browser, if any.
"""

from jetlib.paper.answers import answer_key, seat_sheets
from jetlib.paper.card_of_gauge import gauge_card
from jetlib.paper.card_of_job import job_card
from jetlib.paper.document import Document, Section, write
from jetlib.paper.drill_sheet import drill_sheets
from jetlib.paper.from_bench import print_card
from jetlib.paper.lesson_handout import handout
from jetlib.paper.tables_of_rig import rig_tables

__all__ = [
    "Document",
    "Section",
    "answer_key",
    "drill_sheets",
    "gauge_card",
    "handout",
    "job_card",
    "print_card",
    "rig_tables",
    "seat_sheets",
    "write",
]
