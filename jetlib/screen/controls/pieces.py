"""Pieces of page that practice, predictions and progress share: text as HTML, verdicts, rows of widgets."""

from html import escape

import ipywidgets as widgets

WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"
BORDER = {"border": "1px solid var(--jp-border-color1, #bdbdbd)", "padding": "8px", "max_width": "960px"}
WIDE = {"description_width": "initial"}
WRAPPED = {"flex_flow": "row wrap", "align_items": "center"}

_MARKS = {"right": "✔", "wrong": "✘", "mistake": "✘"}
_INKS = {
    "right": "var(--jp-success-color0, #1b5e20)",
    "wrong": "var(--jp-error-color1, #b3001e)",
    "mistake": "var(--jp-error-color1, #b3001e)",
}
_PLAIN_INK = "var(--jp-ui-font-color1, #1a1a1a)"


def paragraphs(words):
    """Plain text as HTML: a blank line begins a paragraph, a line end stays one."""
    parts = (escape(part.strip()).replace("\n", "<br>") for part in words.split("\n\n"))
    return "".join(f'<p style="margin:0 0 6px 0;line-height:1.5;max-width:900px">{part}</p>' for part in parts)


def heading(words, place=""):
    """The title of a card; place: what a link to it is called."""
    name = f' id="{place}"' if place else ""
    return f'<div{name} role="heading" aria-level="4" style="font-weight:600">{escape(words)}</div>'


def spoken(words, status=""):
    """HTML that is read out when it changes: the words of a verdict, with a mark as well as a colour."""
    mark = f"{_MARKS[status]} " if status in _MARKS else ""
    ink = _INKS.get(status, _PLAIN_INK)
    return (
        '<div role="status" aria-live="polite" style="line-height:1.5;max-width:900px;'
        f'color:{ink}">{mark}{escape(words)}</div>'
    )


def beside(words, status=""):
    """The same for one field: a few words beside it."""
    ink = _INKS.get(status, _PLAIN_INK)
    return f'<span role="alert" style="color:{ink}">{_MARKS.get(status, "")} {escape(words)}</span>'


def folded(title, body):
    """HTML `body` under a title that opens it."""
    return f'<details><summary style="cursor:pointer">{escape(title)}</summary>{body}</details>'


def framed(body):
    """HTML `body` in a frame, for what is stored."""
    return f'<div style="border:1px solid #bdbdbd;padding:8px;max-width:960px">{body}</div>'


def button(words, action, *, hint=""):
    """A button as wide as its words that calls `action()`."""
    made = widgets.Button(description=words, tooltip=hint or words, layout={"width": "auto"})
    made.on_click(lambda _: action())
    return made


def entry(label, placeholder, action=None):
    """A labelled field for a line of text; Enter calls `action()`."""
    made = widgets.Text(
        description=label, placeholder=placeholder, style=WIDE, layout={"width": "420px", "max_width": "100%"}
    )
    if action is not None:
        made.on_msg(lambda _, content, __: action() if content.get("event") == "submit" else None)
    return made


def choices(label, options):
    """Radio buttons with nothing chosen yet; options (words, key)."""
    return widgets.RadioButtons(
        options=options, value=None, description=label, style=WIDE, layout={"width": "max-content", "max_width": "100%"}
    )


def bundle(box, words, html):
    """What a console shows: words, a page that can be stored, and the live controls."""
    view = box._repr_mimebundle_()
    live = (view[0] if isinstance(view, tuple) else view)[WIDGET_VIEW]
    return {"text/plain": words, "text/html": html, WIDGET_VIEW: live}


def other(system):
    """The other unit system."""
    return "metric" if system == "US" else "US"
