"""TOML files that a person wrote, read so that no file can stall or crash the reader: one guard for all of them.

The parser keeps every beginning of a dotted key, so that a key of some ten thousand names exhausts memory.
"""

import re
import stat
import tomllib
from pathlib import Path

from jetlib.errors import JetlibError

MOST_BYTES = 256_000
LONGEST_LINE = 2000
MOST_DOTS = 9  # names of a key, less one; the deepest key of the course has one
_NAME = r"""(?:[\w-]++|"[^"]*+"|'[^']*+')[ \t]*+"""
_TOO_DEEP = re.compile(rf"(?<![\w-]){_NAME}(?:\.[ \t]*+{_NAME}){{{MOST_DOTS + 1}}}")


def read_toml(path, *, what="file", like='bore = "1/2 in"'):
    """The tables of a TOML file at `path`, a dict; a byte-order mark at its head is no fault.

    what: the sort of file it should be, and like: a line of one, both for the message. Raises one JetlibError that
    begins with the file's name and says which line to mend, whatever is wrong.
    """
    path = Path(path)
    try:
        text = _bytes(path, what).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise JetlibError(f"{path.name}: byte {error.start} is not UTF-8 text; save it as plain UTF-8 text") from None
    except (OSError, ValueError) as error:
        if isinstance(error, JetlibError):
            raise
        reason = getattr(error, "strerror", None) or error
        said = f"{path}: cannot be read ({reason}); write the path of a {what} that exists"
        raise JetlibError(said, words=lambda _: said) from None  # a path is said as it was written
    return toml_tables(text, path.name, like=like)


def toml_tables(text, name, *, like='bore = "1/2 in"'):
    """The tables of TOML `text`, a dict. name: where it comes from, which begins every message. Raises JetlibError."""
    for number, line in enumerate(text.splitlines(), start=1):
        if len(line) > LONGEST_LINE:
            raise JetlibError(f"{name}: line {number} is longer than {LONGEST_LINE} characters; write it on several")
        if _TOO_DEEP.search(line):
            raise JetlibError(
                f"{name}: line {number} joins more than {MOST_DOTS + 1} names by dots; write a table for each"
            )
    try:
        return tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        reason = "nested too deep" if isinstance(error, RecursionError) else error
        raise JetlibError(f"{name}: not TOML: {reason}; a line reads like {like}") from None


def _bytes(path, what):
    """What a plain file holds, of bounded size: never a pipe or a device, which have no end."""
    if not stat.S_ISREG(path.stat().st_mode):
        raise JetlibError(f'{path}: not a file; write the path of a {what}, such as "my_{what.split()[0]}.toml"')
    with open(path, "rb") as file:
        data = file.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise JetlibError(f"{path.name}: larger than {MOST_BYTES} bytes; a {what} is a page of text")
    return data
