"""A prediction from its text: the title in its first line, then entries, each a label and its words.

    predicted(
        PredictedChoice,
        "08-low-valve",
        '''
        A bypass valve with a tired spring
        ask: The spring of the valve gets tired. Which of the three readings will show it?
        option all: All three, by the same share
        option full: Full throttle alone
        because: Below its setting a bypass valve does not act, tired or not.
        ''',
        parameters=..., shown=..., answer=...,
    )

A line that begins with no label goes on with the entry before; a blank line begins a paragraph. "[this|that]" is `this`
in US units and `that` in metric ones.
"""

import re
from textwrap import dedent

from jetlib.errors import JetlibError

_LABEL = re.compile(r"(ask|because|option [\w -]+): (.*)")


def predicted(made, id, text, **rest):
    """A prediction of the class `made` from its text: title, ask, because, and option KEY where there are choices."""
    title, *lines = dedent(text).strip().splitlines()
    found = []
    for line in lines:
        if match := _LABEL.fullmatch(line.strip()):
            found.append([match[1], match[2]])
        elif not found:
            raise JetlibError(f"{id}: {line[:60]!r} follows the title; begin it with a label, such as ask:")
        else:
            found[-1][1] += f" {line.strip()}" if line.strip() else "\n\n"
    said = {label: words.strip().replace("\n\n ", "\n\n") for label, words in found}
    options = tuple((label[7:], words) for label, words in said.items() if label.startswith("option "))
    more = ({"because": said["because"]} if "because" in said else {}) | ({"options": options} if options else {})
    return made(id=id, title=title, ask=said["ask"], **more, **rest)
