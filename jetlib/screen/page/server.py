"""The server's half of the page: course pages that reading cannot change, and a place for choices and notes."""

import json
import os
import re
from pathlib import Path

import nbformat
from jupyter_server.base.handlers import APIHandler
from jupyter_server.services.contents.largefilemanager import AsyncLargeFileManager
from jupyter_server.utils import url_path_join
from tornado.web import HTTPError, authenticated

from jetlib.course.classroom.seat_votes import at_seat, cast, own_vote
from jetlib.course.pages.contents import page, pages
from jetlib.course.progress.choices import choices, choose, keep_notes, notes
from jetlib.errors import JetlibError
from jetlib.tables.atomic import Unwritable

OWN = "my_{}.ipynb"  # the reader's own copy of a page
_STAYS = "This is a page of the course and stays as it is. To change it, press “My own copy” first."


def course_page(path):
    """Stem of the course's page at this path of the server; None for any other file, and for authors.

    Whoever writes the course sets JETLIB_AUTHOR=1 and has ordinary notebooks.
    """
    found = re.fullmatch(r"lessons/(\w+)\.ipynb", path.strip("/"))
    known = found and found[1] in {each.stem for each in pages()}
    return found[1] if known and not os.environ.get("JETLIB_AUTHOR") else None


class CoursePages(AsyncLargeFileManager):
    """Files as always, but a course page is read-only: it says so, and it refuses to be written, renamed, deleted."""

    async def get(self, path, *args, **kwargs):
        """The file's model; a course page is not writable."""
        model = await super().get(path, *args, **kwargs)
        if course_page(path):
            model["writable"] = False
        return model

    async def save(self, model, path=""):
        """Save anything but a course page."""
        _refuse(path)
        return await super().save(model, path)

    async def delete_file(self, path):
        """Delete anything but a course page."""
        _refuse(path)
        return await super().delete_file(path)

    async def rename_file(self, old_path, new_path):
        """Rename anything but a course page, to anything but one."""
        _refuse(old_path)
        _refuse(new_path)
        return await super().rename_file(old_path, new_path)

    async def create_checkpoint(self, path):
        """A course page needs no copy beside it."""
        _refuse(path)
        return await super().create_checkpoint(path)

    async def restore_checkpoint(self, checkpoint_id, path):
        """A course page is never put back from a copy."""
        _refuse(path)
        return await super().restore_checkpoint(checkpoint_id, path)


def _refuse(path):
    if course_page(path):
        raise HTTPError(403, _STAYS)


def own_copy(stem, manager):
    """Copy a page to a notebook that the reader may change; its path on the server.

    It lies beside the page, so that its links and pictures still work. One that is there already is not touched.
    """
    folder = Path(manager.root_dir) / "lessons"
    target = folder / OWN.format(stem)
    for number in range(2, 1000):
        if not target.exists():
            break
        target = folder / OWN.format(f"{stem}_{number}")
    notebook = nbformat.read(folder / f"{stem}.ipynb", as_version=4)
    trusted = manager.notary.check_signature(notebook)
    notebook.metadata.pop("jetlib", None)
    nbformat.write(notebook, target)
    if trusted:
        manager.notary.sign(notebook)
    return f"lessons/{target.name}"


class _Face(APIHandler):
    """The course's pages and the reader's choices."""

    @authenticated
    def get(self):
        shown = [{"stem": each.stem, "name": each.name, "minutes": each.minutes} for each in pages()]
        self.finish(json.dumps({"pages": shown, "choices": choices(), "votes": own_vote() is not None}))

    @authenticated
    def put(self):
        self.finish(json.dumps({"choices": _done(choose, **(self.get_json_body() or {}))}))


class _Notes(APIHandler):
    @authenticated
    def get(self, stem):
        self.finish(json.dumps({"text": notes(_done(page, stem).stem)}))

    @authenticated
    def put(self, stem):
        _done(keep_notes, _done(page, stem).stem, str((self.get_json_body() or {}).get("text", "")))
        self.finish("{}")


class _Vote(APIHandler):
    """What a seat of a room is asked, and its vote."""

    @authenticated
    def get(self):
        asked, choice = at_seat()
        told = None if asked is None else {"key": asked.key, "ask": asked.ask, "options": asked.options}
        self.finish(json.dumps({"asked": told, "choice": choice}))

    @authenticated
    def put(self):
        body = self.get_json_body() or {}
        _done(cast, body.get("key"), body.get("choice"))
        self.get()


class _Copy(APIHandler):
    @authenticated
    def post(self, stem):
        self.finish(json.dumps({"path": _done(own_copy, _done(page, stem).stem, self.contents_manager)}))


def _done(action, *args, **kwargs):
    try:
        return action(*args, **kwargs)
    except (JetlibError, TypeError) as error:
        raise HTTPError(400, str(error)) from None
    except KeyError:
        raise HTTPError(404, "The course has no such page.") from None
    except (Unwritable, OSError) as error:
        raise HTTPError(507, f"It cannot be written: {error}") from None


def _load_jupyter_server_extension(app):
    web, base = app.web_app, app.web_app.settings["base_url"]
    routes = [("jetlib/face", _Face), (r"jetlib/notes/(\w+)", _Notes), (r"jetlib/copy/(\w+)", _Copy)]
    routes += [("jetlib/vote", _Vote)] if own_vote() else []
    web.add_handlers(".*$", [(url_path_join(base, path), handler) for path, handler in routes])
