"""The comparison card: set-ups side by side, as the bench's table has them."""

from jetlib.paper.cards.rig_words import SOURCE
from jetlib.paper.page.document import CAUTIONS, Document, Section, require
from jetlib.paper.page.style import caution, table


def comparison_card(shown, *, system="US", paper="A4"):
    """The Document with a Table of set-ups (`jetlib.screen.drawing.table`) and room to write."""
    require(system, paper)
    lines = '<p>Why this one:</p><p style="border-bottom:1px solid;height:9mm"></p>'
    body = "\n".join([caution(*CAUTIONS), table(shown.heads, shown.rows, style="wide close"), lines])
    section = Section("Setups compared", body, SOURCE, None, "Behind each figure: against the first column.", card=True)
    return Document(f"comparison-{system.lower()}", (section,), system, paper)
