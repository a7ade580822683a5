"""What is typed on the bench beside the rig: throttle, drills, what-ifs, readings, tank and pipe; and what it means."""

from dataclasses import replace

from jetlib import tables
from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.checks import FIELDS
from jetlib.rig.job.flushing import DEBRIS
from jetlib.screen.bench.entries.entry import Entry, declared, meaning


def _reading_entry(field):
    options = (("not checked", ""), *((each, each) for each in field.seen)) if field.seen else ()
    return Entry(field.key, field.label, field.kind, options=options, example=field.example, read=field.reading)


#: An Entry for each field of the catalogue of checks.
READINGS = {key: _reading_entry(field) for key, field in FIELDS.items()}
SHEET = {**declared("sheet"), **READINGS}
for _name, _more in (("material", [row.family for row in tables.pipe_limits()]), ("debris", DEBRIS)):
    _options = (*SHEET[_name].options, *((each, each) for each in _more))
    SHEET[_name] = replace(SHEET[_name], options=_options)
#: The reader's own, whatever rig is on the bench.
TOOLS = ("drills", "nozzles")
#: What a new rig leaves open, and "limits" and "job" ask for.
UNSEEN = ("tank", "pipe", "run", "fall")
#: Changes to these are no step that "Undo" takes back.
VIEWS = ("system", "tab", "more", "throttle", "set")


def meaning_of(name, typed):
    """What a text at an entry of the sheet means. Raises JetlibError that says what is allowed."""
    return meaning(SHEET[name], typed)


def fresh_sheet():
    """The texts of all entries as they are at the start."""
    return {name: asked.start for name, asked in SHEET.items()}


def is_sheet(held):
    """Whether plain values read from a file are texts that all entries can use; a sheet of before may lack some."""
    try:
        if not held or not set(held) <= set(SHEET):
            return False
        for name, typed in held.items():
            meaning_of(name, typed)
    except (JetlibError, TypeError, AttributeError):
        return False
    return True
