"""What practice and predictions have in common: the card of a question, what is said of it, and what is stored of it.

What is stored is the question alone; it is the same whoever runs it. What a reader does is kept in their own progress
file, and shows only in the live controls.
"""

import ipywidgets as widgets

from jetlib.course.progress.progress import current
from jetlib.screen.controls.card import Card
from jetlib.screen.controls.pieces import bundle, card, folded, framed, heading, other, paragraphs, row, spoken


class QuestionCard(Card):
    """A question of the page. asked: what has its title and id; kind: a word before the title.

    Whoever inherits gives `_worded(system)`: (plain lines, HTML) of the question in a unit system.
    """

    def __init__(self, kind, asked, system, progress):
        super().__init__(system)
        self.title, self._place = f"{kind}: {asked.title}", asked.id
        self.progress = current() if progress is None else progress
        self._question, self._answer = widgets.HTML(), widgets.HTML()
        self._notices = widgets.HTML(spoken(""))

    def _lay_out(self, look, fields, *buttons):
        """Make the box, of the page's class `look`."""
        parts = self._question, fields, row(*buttons), self._said, self._answer, self._notices
        self.box = card(self.title, *parts, place=self._place)
        self.box.add_class(look)

    def _say(self, words, status=""):
        super()._say(words, status)
        if notices := self.progress.take_notices():
            self._notices.value = spoken(" ".join(notices))

    def _answer_with(self, html):
        """Show HTML under what is said, and have it read out."""
        self._answer.value = f'<div role="status" aria-live="polite">{html}</div>'

    def _repr_mimebundle_(self, include=None, exclude=None):
        far = other(self.system)
        (lines, here), (_, again) = self._worded(self.system), self._worded(far)
        switched = folded(f"In {far} units", again) if again != here else ""
        html = framed(heading(self.title) + here + switched + paragraphs(self.waiting))
        return bundle(self.box, "\n".join([self.title, "", *lines]), html)
