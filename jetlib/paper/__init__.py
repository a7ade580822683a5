"""Things to print: handouts, answer keys, sheets for a room, gauge cards, tables, drills and job cards of a rig.

Each function gives a Document, or a pair of them; `write` puts one on disk as HTML, and as PDF by a browser, if any.
"""

from jetlib.paper.cards.from_bench import print_card
from jetlib.paper.cards.gauge import gauge_card
from jetlib.paper.cards.job import job_card
from jetlib.paper.cards.tables import rig_tables
from jetlib.paper.page.document import Document, Section, write
from jetlib.paper.sheets.answers import answer_key, assessment_sheets, seat_sheets
from jetlib.paper.sheets.callouts import callout_sheet, check_record, print_check_record
from jetlib.paper.sheets.class_set import class_set, print_set
from jetlib.paper.sheets.handout import handout
from jetlib.paper.sheets.hidden_fault import hidden_fault_sheets
from jetlib.paper.sheets.records import attendance_list, class_records, print_records

__all__ = [
    "Document",
    "Section",
    "answer_key",
    "assessment_sheets",
    "attendance_list",
    "callout_sheet",
    "check_record",
    "class_records",
    "class_set",
    "gauge_card",
    "handout",
    "hidden_fault_sheets",
    "job_card",
    "print_card",
    "print_check_record",
    "print_records",
    "print_set",
    "rig_tables",
    "seat_sheets",
    "write",
]
