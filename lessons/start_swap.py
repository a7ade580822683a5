"""Putting a new environment in the place of the old one, so that at every moment one that works can be found.

    .venv            the environment that is used
    .venv-new        one that is being made; finished once it holds the course's stamp
    .venv-old        the former one, between the two renames and until it is deleted
    .venv-rubbish-…  what is being deleted

An environment knows its own place only in the scripts beside its Python: they are rewritten, so that one can be
made beside the old one, and so that a course that was moved goes on working. No links: Windows gives no right to
make them. Standard library only.
"""

import contextlib
import json
import os
import re
import shutil
import time
import uuid
from pathlib import Path

from start_pip import LINK, package_folders
from start_place import ROOT, WINDOWS, SetupProblem, python_in, say, venv_folder, write_whole

# What the learner did in the course's JupyterLab, and goes over into a new environment: the choice of theme and the
# like, and which pages were marked as trusted.
LEARNERS = ("share/jupyter/lab-user", "share/jupyter/nbsignatures.db", "share/jupyter/notebook_secret")


def new_folder(root=ROOT):
    return Path(root) / ".venv-new"


def old_folder(root=ROOT):
    return Path(root) / ".venv-old"


# --- the stamp: what was installed, written last ---


def stamp_file(name, venv):
    return Path(venv) / f"{name}-stamp.json"


def read_stamp(name, venv):
    """The stamp as a dictionary, empty if there is none or it cannot be read."""
    try:
        stamp = json.loads(stamp_file(name, venv).read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) else {}


def write_stamp(name, stamp, venv):
    write_whole(stamp_file(name, venv), json.dumps(stamp, indent=1).encode("utf-8"))


# --- renaming and deleting, also where a virus scanner or OneDrive holds on to files for a moment ---


def rename(path, place, tries=20 if WINDOWS else 2):
    """Whether a folder could be renamed."""
    for turn in range(tries):
        with contextlib.suppress(OSError):
            os.rename(path, place)
            return True
        time.sleep(0.5 if turn + 1 < tries else 0)
    return False


def delete(folder):
    """Delete a folder as far as that can be done. Read-only files are no obstacle."""
    for turn in range(3):
        shutil.rmtree(folder, ignore_errors=True)
        if not os.path.lexists(folder):
            return
        for path in folder.rglob("*"):
            with contextlib.suppress(OSError):
                if not path.is_symlink():
                    path.chmod(0o700)
        time.sleep(0.2 * turn)


def remove(folder):
    """Take a folder out of the way, then delete it: a program that still writes there writes into what is rubbish."""
    if not os.path.lexists(folder):
        return
    rubbish = folder.with_name(f".venv-rubbish-{uuid.uuid4().hex[:8]}")
    if not rename(folder, rubbish):
        raise SetupProblem(
            f"Another program uses this folder, so that it cannot be deleted:\n  {folder}\n"
            "Close other windows that run the course and start again. If that does not help, restart the computer."
        )
    delete(rubbish)


def sweep(root):
    for folder in (*Path(root).glob(".venv-rubbish-*"), *Path(root).glob(".venv-trial-*")):
        delete(folder)


# --- the scripts beside an environment's Python ---


def first_lines(python):
    """What makes a script run by `python`. The system reads a plain first line only if it is short, without spaces."""
    plain = b"#!" + python + b"\n"
    if b" " not in python and len(plain) <= 127:
        return plain
    return b"#!/bin/sh\n'''exec' \"" + python + b'" "$0" "$@"\n\' \'\'\'\n'


def relocated(content, was, now):
    """A script's bytes where an environment that stood at `was` stands at `now`."""
    was, now = os.fsencode(str(was)), os.fsencode(str(now))
    if content[:2] == b"MZ":  # a program of Windows: its first line stands in the middle, and its length is free
        pattern = b'#!"?' + re.escape(was) + rb'([/\\][^"\r\n]*?\.exe)"?'
        return re.sub(pattern, lambda found: b'#!"' + now + found.group(1) + b'"', content)
    head = b"#!(?:/bin/sh\n'''exec' \")?" + re.escape(was) + rb'(/[^"\n]*?)(?:" "\$0" "\$@"' + b"\n' ''')?\n"
    content = re.sub(b"^" + head, lambda found: first_lines(now + found.group(1)), content)
    return re.sub(re.escape(was) + rb"(?![\w.-])", lambda _: now, content)


def relocate(venv, was, now):
    """Rewrite the scripts of the environment in `venv`, which name `was` as its place, for the place `now`."""
    for path in [*python_in(venv).parent.iterdir(), venv / "pyvenv.cfg"]:
        if path.is_symlink() or not path.is_file() or path.stat().st_size > 2_000_000:
            continue  # links to Python and large programs name no place
        content = path.read_bytes()
        mended = relocated(content, was, now)
        if mended != content:
            write_whole(path, mended)


def mend_after_move(stamp, root=ROOT):
    """Make an environment whose course was moved or copied work in its new place."""
    venv = venv_folder(root)
    relocate(venv, venv_folder(stamp["folder"]), venv)
    for folder in package_folders(venv):
        (folder / "_jetlib.pth").write_text(LINK, "ascii")
    for path in venv.glob("*-stamp.json"):
        name = path.name[: -len("-stamp.json")]
        write_stamp(name, read_stamp(name, venv) | {"folder": str(Path(root).resolve())}, venv)


# --- the swap ---


def carry_over(venv, new):
    """Copy what the learner did in the old environment's JupyterLab into the new one."""
    for name in LEARNERS:
        if name.endswith(".db") and (venv / "signed.json").exists():
            continue  # of an earlier start script, which trusted whatever lay in lessons/
        source, target = venv / name, new / name
        with contextlib.suppress(OSError):
            if source.is_dir():
                shutil.copytree(source, target, dirs_exist_ok=True)
            elif source.is_file():
                target.parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(source, target)


def swap_in(root=ROOT):
    """Put the finished new environment in the place of the old one; returns whether that could be done."""
    venv, new, old = venv_folder(root), new_folder(root), old_folder(root)
    relocate(new, new, venv)
    remove(old)
    if os.path.lexists(venv) and not rename(venv, old):
        return False
    if not rename(new, venv):
        rename(old, venv)
        return False
    with contextlib.suppress(SetupProblem):
        remove(old)
    return True


def recover(root=ROOT):
    """Bring what an interrupted start left behind into order; quick if there is nothing."""
    venv, new, old = venv_folder(root), new_folder(root), old_folder(root)
    sweep(root)
    if not read_stamp("course", venv):
        # Stopped between the two renames, or before the first start came to its end.
        if read_stamp("course", new):
            if swap_in(root):
                say("Finished the interrupted setup.")
        elif read_stamp("course", old):
            remove(venv)
            if rename(old, venv):
                say("The setup was interrupted: the previous environment is back.")
    if read_stamp("course", venv):
        with contextlib.suppress(SetupProblem):
            remove(old)
    if not read_stamp("course", new):
        remove(new)
