"""How far a reader is, in views that look again by themselves when another page has saved something; of the start page
itself what to go on with, and the map of the course.
"""

import asyncio
from contextlib import suppress
from html import escape
from weakref import WeakSet

import ipywidgets as widgets

from jetlib.course.pages.contents import lessons, pages
from jetlib.course.pages.way import done_of, is_read, next_task, tasks
from jetlib.course.progress.progress import current
from jetlib.screen.controls.pieces import bundle

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
