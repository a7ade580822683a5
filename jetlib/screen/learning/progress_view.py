"""The reader's own progress on the start page: how far, what to look at again, export and delete.

What is stored says only that it will show here: nobody's progress gets into a notebook.
"""

from html import escape

import ipywidgets as widgets
from platformdirs import user_documents_path

from jetlib.course.progress.progress import current
from jetlib.course.store.locked_folder import chosen_home
from jetlib.errors import JetlibError
from jetlib.screen.controls.pieces import BORDER, WRAPPED, bundle, button, entry, framed, heading, paragraphs, spoken
from jetlib.screen.learning.practice import PracticeConsole
from jetlib.units.refusal import page_words

_WAITING = "Once this notebook has been run, it shows here how far you have got and three exercises to warm up with."


def progress() -> "ProgressConsole":
    """The ProgressConsole of whoever runs this."""
    return ProgressConsole()


class ProgressConsole:
    """Progress by lesson, "three to warm up with", export for the trainer, delete. `words` says what it shows."""

    def __init__(self, progress=None):
        self.progress = current() if progress is None else progress
        self._table = widgets.HTML()
        self._said = widgets.HTML(spoken(""))
        self._warm_up = widgets.VBox()
        self._path = entry("Export to", "a folder or a file name")
        self._path.value = str(chosen_home() or user_documents_path())
        self._label = entry("Your label (optional)", "what your trainer knows you by, such as: seat 4")
        self._sure = widgets.Checkbox(
            description="Yes, delete all of my progress", indent=False, layout={"width": "auto"}
        )
        away = [
            widgets.HBox([self._label, self._path, button("Export for the trainer", self.export)], layout=WRAPPED),
            widgets.HBox([self._sure, button("Delete", self.delete)], layout=WRAPPED),
        ]
        doing = [button("Show again", self.refresh), button("Three to warm up with", self.warm_up)]
        self.box = widgets.VBox(
            [
                widgets.HTML(heading("Your progress")),
                self._table,
                widgets.HBox(doing, layout=WRAPPED),
                self._warm_up,
                *away,
                self._said,
            ],
            layout=BORDER,
        )
        self._show()
        self._say("")

    @property
    def words(self):
        """Progress in sentences, a lesson in each."""
        return " ".join(_lesson_words(tally) for tally in self.progress.tallies())

    def refresh(self):
        """Read what other notebooks have saved since."""
        self._show()
        self._say("This is how far you are.")

    def warm_up(self):
        """Put up to three exercises that went wrong on the page, with new numbers."""
        self.progress.refresh()
        due = self.progress.warm_up()
        self._warm_up.children = tuple(
            PracticeConsole(
                exercise,
                seed=self.progress.record.next_seed(exercise.id),
                progress=self.progress,
            ).box
            for exercise in due
        )
        count = len(due)
        self._say(
            "Nothing went wrong that was not put right since. Well done, or well begun."
            if not due
            else f"{count} to warm up with: they went wrong before."
        )

    def export(self):
        """Write one file for the trainer to the place named."""
        try:
            path = self.progress.export(self._path.value.strip() or ".", self._label.value)
        except (JetlibError, ValueError) as error:
            self._say(f"Not written. {page_words(error)}")
            return
        self._show()
        self._say(f"Written to {path}. Exercise tries in it: {len(self.progress.record.attempts)}.")

    def delete(self):
        """Delete all progress, if the box is ticked."""
        if not self._sure.value:
            self._say("Nothing deleted. Tick the box first: it cannot be undone.")
            return
        self._sure.value = False
        try:
            self.progress.delete()
        except JetlibError as error:
            self._say(f"Not deleted. {page_words(error)}")
            return
        self._warm_up.children = ()
        self._show()
        self._say("Your progress is deleted.")

    def _show(self):
        self.progress.refresh()
        rows = "".join(_row(tally) for tally in self.progress.tallies())
        head = "".join(
            f'<th scope="col" style="padding:2px 10px;text-align:left">{each}</th>'
            for each in ("Lesson", "Done", "To review", "")
        )
        kept = f"Kept in {self.progress.path} on this machine. No name stands in it, and it is sent nowhere."
        again = [f"{name} ({times} times)" for name, times in self.progress.record.mistakes() if times > 1]
        if again:
            kept = f"Mistakes made most: {'; '.join(again)}.\n\n{kept}"
        self._table.value = f"<table><tr>{head}</tr>{rows}</table>{paragraphs(kept)}"

    def _say(self, words):
        self._said.value = spoken(" ".join([words, *self.progress.take_notices()]).strip())

    def _repr_mimebundle_(self, include=None, exclude=None):
        return bundle(self.box, f"Your progress\n\n{_WAITING}", framed(heading("Your progress") + paragraphs(_WAITING)))


def _state(tally):
    if tally.finished:
        return "finished"
    return "begun" if tally.opened or tally.done or tally.to_review else "not begun"


def _row(tally):
    cells = (tally.lesson, f"{tally.done} of {tally.total}", str(tally.to_review), _state(tally))
    return "<tr>" + "".join(f'<td style="padding:2px 10px">{escape(cell)}</td>' for cell in cells) + "</tr>"


def _lesson_words(tally):
    return f"Lesson {tally.lesson}: {tally.done} of {tally.total} done, {tally.to_review} to review, {_state(tally)}."
