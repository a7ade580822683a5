"""How far a reader is: what to go on with, the map of the course, what is done, what went wrong; export and delete.

What is stored says only that it will show here: nobody's progress gets into a notebook. Views look again by themselves
when another page has saved something.
"""

import asyncio
from contextlib import suppress
from html import escape
from weakref import WeakSet

import ipywidgets as widgets
from platformdirs import user_documents_path

from jetlib.course.pages.contents import lessons, pages
from jetlib.course.pages.way import done_of, is_read, next_task, tasks
from jetlib.course.progress.progress import current
from jetlib.course.store.locked_folder import chosen_home
from jetlib.errors import JetlibError
from jetlib.screen.controls.pieces import bundle, button, card, entry, framed, heading, paragraphs, row, spoken, tabled
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


# --- of the start page ----------------------------------------------------------------------------

_EVERY = 2.0  # seconds
_views, _clock = WeakSet(), []
_FIRST = "01_pump_and_gauge"
_BUTTON = (
    "display:inline-block;padding:12px 20px;border-radius:8px;font-size:1.15em;font-weight:600;"
    "background:var(--course-action,#0b57a4);color:var(--course-on-action,#fff);text-decoration:none"
)
_ROW = "display:flex;flex-wrap:wrap;gap:2px 16px;padding:6px 0;border-bottom:1px solid var(--jp-border-color2,#ddd)"


def watch(view):
    """Call `view.look_again()` whenever the file at `view.progress.path` has changed, as long as the kernel runs."""
    view.seen = _stamp(view)
    _views.add(view)
    if not _clock:
        with suppress(RuntimeError):  # outside of a notebook nothing runs on
            _clock.append(asyncio.get_running_loop().call_later(_EVERY, _look))


def _look():
    _clock[:] = [asyncio.get_running_loop().call_later(_EVERY, _look)]
    look_again()


def look_again():
    """Have every view whose file has changed look again."""
    for view in tuple(_views):
        if (now := _stamp(view)) != view.seen:
            view.seen = now
            view.progress.refresh()
            view.look_again()


def _stamp(view):
    try:
        held = view.progress.path.stat()
    except OSError:
        return None
    return held.st_mtime_ns, held.st_size


class LiveView:
    """HTML about the reader's progress, made by `html(record)`, anew whenever that has changed.

    What is stored of it is `html(None)` and `words`: the same for everybody.
    """

    words = ""

    def __init__(self, progress=None):
        self.progress = current() if progress is None else progress
        self.box = widgets.HTML()
        self.progress.refresh()
        self.look_again()
        watch(self)

    def look_again(self):
        """Show how far the reader is now."""
        self.box.value = self.html(self.progress.record)

    def _repr_mimebundle_(self, include=None, exclude=None):
        return bundle(self.box, self.words, self.html(None))


class GoOn(LiveView):
    """One large link to what comes next, and what of the course is done."""

    words = "Begin with lesson 01."

    def html(self, record):
        """The link, or for no record that to the first lesson."""
        task = next_task(record) if record is not None and record.events else None
        if record is not None and record.events and task is None:
            return "<p><b>You have done every exercise and prediction of the course.</b></p>"
        if task is None:
            return _link(f"{_FIRST}.ipynb", "Begin with lesson 01")
        done = [done_of(record, page.stem) for page in lessons()]
        count, total = (sum(each) for each in zip(*done, strict=True))
        again = len(record.due())
        so_far = f"{count} of {total} exercises and predictions done" + (f", {again} due again" if again else "")
        return _link(task.link, f"Go on with {task.words}: {task.title}") + f" <span>&ensp;{so_far}.</span>"


class CourseMap(LiveView):
    """A list of the pages with links, minutes, how far each is and what it is for."""

    def __init__(self, progress=None):
        beside = [each for each in pages() if not each.number]
        self._pages = [*(each for each in lessons() if each.stem != "00_start_here"), *beside]
        super().__init__(progress)

    @property
    def words(self):
        """The list without anybody's progress."""
        return "\n".join(f"{each.name:<24} {_minutes(each):>7}  {each.can}" for each in self._pages)

    def html(self, record):
        """The map, with the reader's progress unless there is no record."""
        due = [] if record is None else [name[:2] for name in record.due()]
        rows = "".join(f'<li style="{_ROW}">{self._row(each, record, due)}</li>' for each in self._pages)
        return f'<ol style="list-style:none;margin:0;padding:0;line-height:1.4">{rows}</ol>'

    def _row(self, page, record, due):
        cells = [(f'<a href="{page.stem}.ipynb">{escape(page.name)}</a>', "0 0 13em"), (_minutes(page), "0 0 4em")]
        if record is not None and tasks(page.stem):
            done, total = done_of(record, page.stem)
            bar = (
                '<svg width="80" height="8" aria-hidden="true"><rect width="80" height="8" rx="4" fill="currentColor" '
                f'opacity="0.2"/><rect width="{80 * done / total:.0f}" height="8" rx="4" fill="currentColor"/></svg>'
            )
            cells.append((f"{bar} {done_words(record, page, due)}", "0 1 25em"))
        cells.append((escape(page.can), "1 1 20em"))
        return "".join(f'<span style="flex:{flex}">{cell}</span>' for cell, flex in cells)


def done_words(record, page, due):
    """What is done on a page; due: the lesson of each exercise that is due again."""
    done = (" of ".join(map(str, done_of(record, page.stem, kind))) for kind in ("exercise", "prediction"))
    told = "{} exercises, {} predictions".format(*done)
    told += ", read to its end" if is_read(record, page.stem) else ""
    return told + (f", {due.count(page.number)} due again" if page.number in due else "")


def _minutes(page):
    return f"{page.minutes} min" if page.minutes else ""


def _link(href, words):
    return f'<a class="course-go" href="{escape(href)}" style="{_BUTTON}">{escape(words)} ▶</a>'


def course_map() -> CourseMap:
    """The CourseMap of the pages that are in the course now."""
    return CourseMap()


def go_on() -> GoOn:
    """The GoOn of whoever runs this."""
    return GoOn()
