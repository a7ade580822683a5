"""The reader's own progress: what is done, export and delete on the start page; what went wrong, above each lesson.

What is stored says only that it will show here: nobody's progress gets into a notebook.
"""

import ipywidgets as widgets
from platformdirs import user_documents_path

from jetlib.course.pages.contents import lessons
from jetlib.course.pages.way import tasks
from jetlib.course.progress.progress import current
from jetlib.course.store.locked_folder import chosen_home
from jetlib.errors import JetlibError
from jetlib.screen.controls.pieces import bundle, button, card, entry, framed, heading, paragraphs, row, spoken, tabled
from jetlib.screen.learning.course_map import done_words, watch
from jetlib.screen.learning.practice import PracticeConsole
from jetlib.units.refusal import page_words

_MOST_SKILLS = 4
_WAITING = "Once this page runs, it shows here what you have done and which mistakes you made most."
_WARM_UP = "Up to three exercises that you got wrong in earlier lessons come back here, with new numbers."


def progress() -> "ProgressConsole":
    """The ProgressConsole of whoever runs this."""
    return ProgressConsole()


def warm_up(before: str = "99") -> "WarmUp":
    """The WarmUp of a page: before, the number of its lesson."""
    return WarmUp(before)


class WarmUp:
    """Up to three exercises of earlier lessons that went wrong, one after another, with new numbers; or nothing."""

    def __init__(self, before="99", progress=None):
        progress = current() if progress is None else progress
        progress.refresh()
        wrong = any(name[:2] < before for name in progress.record.due())  # no bank is read for nothing
        self.cards = [
            PracticeConsole(each, seed=progress.record.next_seed(each.id), progress=progress)
            for each in (progress.warm_up(before) if wrong else ())
        ]
        for each in self.cards:
            each.then = self._go_on
        self._holder, self._shown = widgets.VBox(), 0
        open_them = button(f"Warm up first: {len(self.cards)} that you got wrong before", self.open)
        self._all = button("Show all of them", self.show_all)
        self.box = widgets.VBox([open_them, self._holder] if self.cards else [])
        self.box.add_class("course-warm-up" if self.cards else "course-follows")

    def open(self):
        """Show the first, or put them away again."""
        if self._holder.children:
            self._holder.children = ()
        else:
            self._show(max(self._shown, 1))

    def show_all(self):
        """Show all of them at once."""
        self._show(len(self.cards))

    def _go_on(self, card):
        """One is right, or its solution was shown: the next comes."""
        self._show(max(self._shown, self.cards.index(card) + 2))

    def _show(self, count):
        self._shown = min(count, len(self.cards))
        more = [self._all] if self._shown < len(self.cards) else []
        self._holder.children = (*(card.box for card in self.cards[: self._shown]), *more)

    def _repr_mimebundle_(self, include=None, exclude=None):
        return bundle(self.box, _WARM_UP, f'<div class="course-follows">{framed(paragraphs(_WARM_UP))}</div>')


class ProgressConsole:
    """What was done of each lesson, mistakes made most, export for the trainer, delete. `words` says what it shows."""

    def __init__(self, progress=None):
        self.progress = current() if progress is None else progress
        self._table = widgets.HTML()
        self._said = widgets.HTML(spoken(""))
        self._path = entry("Export to", "a folder or a file name")
        self._path.value = str(chosen_home() or user_documents_path())
        self._label = entry("Your label (optional)", "such as seat 4")
        self._sure = widgets.Checkbox(
            description="Yes, delete all of my progress", indent=False, layout={"width": "auto"}
        )
        export = row(self._label, self._path, button("Export for the trainer", self.export))
        delete = row(self._sure, button("Delete", self.delete))
        self.box = card("Your progress", self._table, export, delete, self._said)
        self.look_again()
        self._say("")
        watch(self)

    @property
    def words(self):
        """Progress in sentences, a lesson in each."""
        return " ".join(f"Lesson {': '.join(each)}." for each in self._rows())

    def _rows(self):
        """(number, what is done of it) of each lesson."""
        record = self.progress.record
        due = [name[:2] for name in record.due()]
        for page in lessons():
            if tasks(page.stem):
                yield page.number, done_words(record, page, due)

    def export(self):
        """Write one file for the trainer to the place named."""
        try:
            path = self.progress.export(self._path.value.strip() or ".", self._label.value)
        except (JetlibError, ValueError) as error:
            self._say(f"Not written. {page_words(error)}")
            return
        self.look_again()
        self._say(f"Written to {path}. Exercise tries in it: {len(self.progress.record.attempts)}.")

    def delete(self):
        """Delete all progress, if the box is checked."""
        if not self._sure.value:
            self._say("Nothing deleted. Check the box first: this cannot be undone.")
            return
        self._sure.value = False
        try:
            self.progress.delete()
        except JetlibError as error:
            self._say(f"Not deleted. {page_words(error)}")
            return
        self.look_again()
        self._say("Your progress is deleted.")

    def look_again(self):
        """Show how far the reader is now."""
        self.progress.refresh()
        again = [f"{name} ({times} times)" for name, times in self.progress.record.mistakes() if times > 1]
        weak = [
            f"{skill} (lesson {', '.join(sorted({each.lesson for each in due}))})"
            for skill, due in self.progress.to_revisit().items()
        ][:_MOST_SKILLS]
        told = [
            *([f"Look at again: {'; '.join(weak)}."] if weak else []),
            *([f"Mistakes made most: {'; '.join(again)}."] if again else []),
            f"Kept in {self.progress.path} on this machine. It holds no name and is sent nowhere.",
        ]
        self._table.value = tabled(("Lesson", "Done"), self._rows()) + "".join(map(paragraphs, told))

    def _say(self, words):
        self._said.value = spoken(" ".join([words, *self.progress.take_notices()]).strip())

    def _repr_mimebundle_(self, include=None, exclude=None):
        return bundle(self.box, f"Your progress\n\n{_WAITING}", framed(heading("Your progress") + paragraphs(_WAITING)))
