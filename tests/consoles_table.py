"""What can be set on each console, read off the consoles themselves, for data/consoles.json.

.venv/bin/python tests/consoles_table.py    write it anew
"""

import json
import os
import tempfile

from jetlib.course.pages.consoles import CONSOLES, TABLE
from jetlib.screen.controls.console import Line, Push


def table():
    """{console: {setting: [label, kind, {option's words: value}]}}, as JSON would give it back."""
    found = {}
    for name, record in CONSOLES.items():
        made = record.maker()()
        controls = getattr(made, "controls", {})
        found[name] = {
            key: [each.label, getattr(each, "kind", ""), dict(getattr(each, "options", ()))]
            for key, each in controls.items()
            if not isinstance(each, Push | Line)
        }
    return json.loads(json.dumps(found))


def as_text(held):
    """The table as it is kept: a setting on a line."""
    rooms = [
        f"{json.dumps(name)}: {{"
        + ",".join(f"\n  {json.dumps(key)}: {json.dumps(row, ensure_ascii=False)}" for key, row in rows.items())
        + ("\n}" if rows else "}")
        for name, rows in held.items()
    ]
    return "{\n" + ",\n".join(rooms) + "\n}\n"


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as home:
        os.environ["JETLIB_HOME"] = home
        TABLE.write_text(as_text(table()), "utf-8", newline="\n")
