"""What a cell that fails says: one plain sentence with what to do, and the whole story folded under it.

An IPython extension, which the kernel's settings load; nothing on a page depends on it.
"""

import os
import traceback
from html import escape

from IPython.display import display

from jetlib.errors import JetlibError

_WHOLE = "The whole story, for whoever wrote this"


def start_command(windows=os.name == "nt"):
    """What to type to start the course."""
    return r"py lessons\start.py" if windows else "python3 lessons/start.py"


def load_ipython_extension(shell):
    """Let the shell say its errors in words. SystemExit stays as it is."""
    as_before = shell.showtraceback

    def say(given=None, *places, **options):
        kind, error, trace = shell._get_exc_info(given)
        if isinstance(error, SystemExit):
            as_before(given, *places, **options)
            return
        shell._showtraceback(kind, error, [in_words(error)])
        whole = "".join(traceback.format_exception(kind, error, trace))
        folded = f"<details><summary>{_WHOLE}</summary><pre>{escape(whole)}</pre></details>"
        display({"text/html": folded, "text/plain": whole}, raw=True)

    shell.showtraceback = say
    shell.showsyntaxerror = lambda *_, **__: say()


def in_words(error):
    """What went wrong and what to do, one line of text, for any exception."""
    said = " ".join(str(error).split())[:300]
    if isinstance(error, JetlibError):
        return said
    if isinstance(error, KeyboardInterrupt):
        return "Stopped. Run the cell again whenever you like."
    if isinstance(error, SyntaxError):
        return f"Line {error.lineno} of this cell is not Python ({error.msg}). Look at that line and the one above it."
    if isinstance(error, NameError) and error.name:
        return f"{error.name} is not known here. Check the spelling, or run the cells above this one first."
    if isinstance(error, ImportError):
        start = start_command()
        return f"Something that this page needs is missing ({said}). Close the page and start the course: {start}"
    if isinstance(error, MemoryError):
        return "This computer has no memory left for that. Close other pages, then run the cell again."
    if isinstance(error, OSError) and error.strerror:
        where = f": {error.filename}" if error.filename else ""
        return f"{error.strerror}{where}. Mend that, then run the cell again."
    return (
        f"This cell stopped ({type(error).__name__}: {said}). Run it once more. If it stops again and you changed "
        f"nothing in it, send the report that this writes: {start_command()} --report"
    )
