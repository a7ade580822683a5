"""The course's pages as they were shipped: which of those in lessons/ still are, marking them as trusted, and
bringing them back.

`data/pages/` holds a packed copy of every page, written by `tests/refresh_notebooks.py`. Only those are marked as
trusted, by the environment's own Python, for which this file is also a program. Any other page, a changed one of the
course included, opens as JupyterLab opens what comes from a stranger: it reads, and runs nothing by itself. What the
reader runs and saves is trusted by JupyterLab. Standard library only, but for nbformat in that program.
"""

import contextlib
import gzip
import json
import subprocess
import sys
import zlib
from pathlib import Path

from start_place import ROOT, WINDOWS, SetupProblem, environment, say, venv_folder, venv_python, write_whole


def course_notebooks(root=ROOT):
    return sorted(path for path in (Path(root) / "lessons").glob("*.ipynb") if path.is_file())


def page_file(stem, root=ROOT):
    return Path(root) / "lessons" / f"{stem}.ipynb"


def packed_file(stem, root=ROOT):
    return Path(root) / "data" / "pages" / f"{stem}.ipynb.gz"


def shipped_pages(root=ROOT):
    """Stems of the pages that the course was shipped with."""
    packed = (Path(root) / "data" / "pages").glob("*.ipynb.gz")
    return sorted(path.name[: -len(".ipynb.gz")] for path in packed)


def shipped_bytes(stem, root=ROOT):
    """A page as it was shipped; SetupProblem if its packed copy is damaged."""
    path = packed_file(stem, root)
    try:
        return gzip.decompress(path.read_bytes())
    except (OSError, EOFError, ValueError, zlib.error) as error:
        raise SetupProblem(
            f"The packed copy of a page cannot be read ({error}):\n  {path}\nGet the course again."
        ) from None


def plain(content):
    """A page's bytes with the line ends of the packed copy: some systems change them when a course is fetched."""
    return content.replace(b"\r\n", b"\n")


def pack(path, root=ROOT):
    """Make the packed copy of a page from the page; left alone if it says the same. Returns whether it changed."""
    place, content = packed_file(path.stem, root), plain(path.read_bytes())
    with contextlib.suppress(SetupProblem):
        if place.exists() and shipped_bytes(path.stem, root) == content:
            return False
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(gzip.compress(content, 9, mtime=0))  # no date, so that the same page gives the same bytes
    return True


def not_as_shipped(root=ROOT):
    """Pages that differ from what was shipped, that are missing, and that the course does not know; lists of stems."""
    shipped, there = shipped_pages(root), {path.stem for path in course_notebooks(root)}
    changed = [
        stem
        for stem in shipped
        if stem in there and plain(page_file(stem, root).read_bytes()) != shipped_bytes(stem, root)
    ]
    return changed, [stem for stem in shipped if stem not in there], sorted(there - set(shipped))


def find_page(name, root=ROOT):
    """Stem of the notebook meant by `name`: "03", "bench", "bench.ipynb" or "lessons/03_hose_friction.ipynb"."""
    stems = [path.stem for path in course_notebooks(root)]
    found = best_fit(name, stems, shipped_pages(root))
    if found is None:
        if missing := best_fit(name, shipped_pages(root)):
            line = command_line("--restore", missing)
            raise SetupProblem(f"This page is missing: lessons/{missing}.ipynb. To bring it back:\n  {line}")
        raise SetupProblem(f"No single page is called {name!r}. There are: {', '.join(stems)}")
    return found


def best_fit(name, stems, first=()):
    """The one of `stems` that `name` means, the pages in `first` before others; None if it is not one alone."""
    wanted = Path(name.replace("\\", "/")).name
    wanted = wanted[: -len(".ipynb")] if wanted.endswith(".ipynb") else wanted
    if wanted in stems:
        return wanted
    fits = [stem for stem in stems if stem.startswith(wanted)]
    fits = [stem for stem in fits if stem in first] or fits
    return fits[0] if len(fits) == 1 else None


# --- trust ---


def trust(root=ROOT):
    """Mark the shipped pages as trusted, once, so that their pictures and buttons work before they are run.

    Says which of the pages in lessons/ are not, and what that means.
    """
    memory = venv_folder(root) / "trusted-pages.json"
    packed = [packed_file(stem, root) for stem in shipped_pages(root)]
    marks = {str(path): [path.stat().st_size, path.stat().st_mtime_ns] for path in [*course_notebooks(root), *packed]}
    known = {}
    with contextlib.suppress(OSError, ValueError):
        known = json.loads(memory.read_text("utf-8"))
    if known.get("marks") != marks:
        # An earlier start script trusted whatever lay in lessons/. That is forgotten, once.
        with contextlib.suppress(OSError):
            (venv_folder(root) / "signed.json").unlink()
            (venv_folder(root) / "share/jupyter/nbsignatures.db").unlink()
        command = [str(venv_python(root)), __file__, str(root)]
        asked = subprocess.run(command, env=environment(root), capture_output=True, encoding="utf-8", errors="replace")
        try:
            known = {"marks": marks, "untrusted": json.loads(asked.stdout)}
            memory.write_text(json.dumps(known), "utf-8")
        except ValueError:
            say("Note: the pages could not be marked as trusted; JupyterLab will ask before their buttons work.")
            return
    words_on_pages(known["untrusted"], root)


def words_on_pages(untrusted, root=ROOT):
    """Say which pages open untrusted, and which are missing."""
    changed, missing, foreign = not_as_shipped(root)
    changed = [stem for stem in changed if stem in untrusted]
    foreign = [stem for stem in foreign if stem in untrusted]
    if changed:
        say(f"Changed from the original: {', '.join(changed)}.")
    if foreign:
        say(f"In lessons/, but not part of the course: {', '.join(foreign)}.")
    if changed or foreign:
        say("  Such a page opens untrusted: you can read it, but its buttons and live parts wait for you to run it.")
        say("  Run it only if you know who wrote it.")
    if missing:
        say(f"Missing: {', '.join(missing)}.")
    if changed or missing:
        say(f"  To restore the original pages: {command_line('--restore')}")


def command_line(*arguments, windows=WINDOWS):
    """The line a reader types to start the course with these arguments."""
    return " ".join([r"py lessons\start.py" if windows else "python3 lessons/start.py", *arguments])


def sign_shipped(root):
    """Run by the environment's Python. Signs what was shipped; returns the stems of the pages that are not trusted."""
    import nbformat
    from nbformat.sign import NotebookNotary

    notary = NotebookNotary()
    for stem in shipped_pages(root):
        with contextlib.suppress(SetupProblem):
            notary.sign(nbformat.reads(shipped_bytes(stem, root).decode("utf-8"), as_version=4))
    untrusted = []
    for path in course_notebooks(root):
        try:
            trusted = notary.check_signature(nbformat.reads(path.read_text("utf-8"), as_version=4))
        except Exception:  # whatever is wrong with a page, it is not one to trust
            trusted = False
        untrusted += [] if trusted else [path.stem]
    return untrusted


# --- bringing pages back ---


def restore(name=None, root=ROOT):
    """Bring one page, or all that need it, back as shipped; what was in them is kept under another name."""
    shipped = shipped_pages(root)
    if not shipped:
        raise SetupProblem("The packed copies of the pages are missing (folder data/pages). Get the course again.")
    if name is not None and best_fit(name, shipped) is None:
        raise SetupProblem(f"No single page of the course is called {name!r}. There are: {', '.join(shipped)}")
    changed, missing, _ = not_as_shipped(root)
    wanted = [stem for stem in changed + missing if name is None or stem == best_fit(name, shipped)]
    for stem in sorted(wanted):
        aside = put_aside(page_file(stem, root)) if stem in changed else None
        write_whole(page_file(stem, root), shipped_bytes(stem, root))
        kept = f" What was in it is kept in lessons/{aside.name}" if aside else ""
        say(f"Restored: {stem}.{kept}")
    if not wanted:
        say("Nothing to restore: " + ("every page is" if name is None else "that page is") + " as it was made.")
    else:
        say("If a page is open in the browser, reload it.")


def put_aside(path):
    """Copy a page to the first free numbered name beside it, unless it is kept there already; returns that path."""
    content, number = path.read_bytes(), 0
    while True:
        number += 1
        place = path.with_name(f"{path.stem}-kept-{number}.ipynb")
        try:
            with open(place, "xb") as file:
                file.write(content)
        except FileExistsError:
            if place.is_file() and place.read_bytes() == content:
                return place
            continue
        return place


if __name__ == "__main__":
    print(json.dumps(sign_shipped(Path(sys.argv[1]))))
