"""Views of a reader's progress that look again by themselves when another page has saved something."""

import asyncio
from contextlib import suppress
from weakref import WeakSet

_EVERY = 2.0  # seconds
_views, _clock = WeakSet(), []


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
