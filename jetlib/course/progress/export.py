"""A learner's progress as one file for the trainer, with a label that the learner chose, or with none."""

import os
from dataclasses import dataclass
from pathlib import Path

from jetlib.course.progress.record import MOST_BYTES, NAME, PREVIOUS, Damaged, Newer, Record, to_bytes, with_head
from jetlib.course.store.locked_folder import home
from jetlib.errors import JetlibError
from jetlib.tables.atomic import NotAPlainFile, Unwritable, read_plain, reason, write_whole
from jetlib.units.refusal import cut

STEM = "jetting_progress"
LONGEST_LABEL = 40
_MOST_OF_ONE_NAME = 99
_MARKS = 8  # of a key, in a file's name: two learners of a million would share one


@dataclass(frozen=True)
class Export:
    """What a file for the trainer holds: the label ("" for none), when it was written (UTC, as text), the Record."""

    label: str
    when: str
    record: Record

    def same_learner(self, other):
        """Whether two files come from one learner: every event has a key of its own, so a shared one tells."""
        keys = {event.key for event in self.record.events}
        return any(event.key in keys for event in other.record.events)


def fit_label(label):
    """A label without spaces at its ends. Raises JetlibError that says what is allowed."""
    label = label.strip()
    if len(label) > LONGEST_LABEL or not label.isprintable():
        raise JetlibError(f"label is {cut(label)!r}; write up to {LONGEST_LABEL} letters, figures and spaces: seat 4")
    return label


def write_export(record, path, when, label=""):
    """Write `record` to a file for the trainer; returns its Path. Raises JetlibError.

    A folder gets a file named after the label in it, or else after the learner's first event, so that files from many
    machines can be put into one folder. A file's name ends in .json, by which the trainer's page knows it;
    that is added where it is left out. An older export of the same learner is replaced; any other file
    is left alone, and in a folder the next free name is taken.
    """
    export = Export(fit_label(label), when, record)
    path = Path(os.path.abspath(os.path.expanduser(path)))
    if path.is_dir():
        path = _name_in(path, export)
    else:
        path = path.with_name(f"{path.name.removesuffix('.json')}.json")
        if not _free(path, export):
            raise JetlibError(f"{path} is there already and is not yours; write another name")
    if path.name in (NAME, PREVIOUS) and path.parent == home():
        raise JetlibError(f"{path} is the progress file itself; write another name or folder")
    try:
        write_whole(path, to_bytes(record, exported=when, label=export.label))
    except Unwritable as problem:
        raise JetlibError(f"{path}: not written ({problem}); write the path of a folder you can write to") from None
    return path


def read_export(path):
    """The Export in a file that a learner wrote for the trainer. Raises JetlibError."""
    path = Path(path)
    try:
        record, head = with_head(read_plain(path, MOST_BYTES + 1))
    except (Damaged, Newer, NotAPlainFile) as error:
        raise JetlibError(f"{path.name} is no progress this course can read: {error}; ask for it again") from None
    except (OSError, ValueError) as error:
        raise JetlibError(f"{path}: cannot be read ({reason(error)}); write the path of a file that exists") from None
    return Export(_text(head.get("label"), LONGEST_LABEL), _text(head.get("exported"), LONGEST_LABEL), record)


def _name_in(folder, export):
    """The first name in a folder that is free for this export."""
    plain = "".join(mark if mark.isalnum() else "_" for mark in export.label.lower()).strip("_")
    plain = plain or next((event.key[:_MARKS] for event in export.record.events), "")
    stem = f"{STEM}_{plain}" if plain else STEM
    names = [f"{stem}.json", *(f"{stem}_{number}.json" for number in range(2, _MOST_OF_ONE_NAME + 1))]
    for name in names:
        if _free(folder / name, export):
            return folder / name
    raise JetlibError(f"{folder} holds {len(names)} files named {stem} already; write another folder")


def _free(path, export):
    """Whether nothing stands there, or an older file of the same learner."""
    if not os.path.lexists(path):
        return True
    try:
        there = read_export(path)
    except JetlibError:
        return False
    return there.same_learner(export) or not (there.record.events or export.record.events)


def _text(value, longest):
    """A text of the file's head, harmless; "" for anything else."""
    return value[:longest].strip() if isinstance(value, str) and value[:longest].isprintable() else ""
