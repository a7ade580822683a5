"""Pieces that pages share: text as HTML, verdicts, rows of widgets, a box over the whole window, files handed over."""

from base64 import b64encode
from html import escape

import ipywidgets as widgets

from jetlib.errors import JetlibError
from jetlib.units import text
from jetlib.units.refusal import page_words

_TIMES = 1.95  # from here on a change is said as so many times
WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"
BORDER = {"border": "1px solid var(--jp-border-color1, #bdbdbd)", "padding": "8px", "max_width": "960px"}
FRAME = {**BORDER, "max_width": "1280px"}  # of a console, which uses the width
WIDE = {"description_width": "initial"}
BESIDE = {"flex_flow": "row wrap", "align_items": "flex-start"}
WRAPPED = {"flex_flow": "row wrap", "align_items": "center", "max_width": "100%"}

_MARKS = {"right": "✔", "wrong": "✘", "mistake": "✘"}
_RED = "var(--jp-error-color1, #b3001e)"
_INKS = {"right": "var(--jp-success-color0, #1b5e20)", "wrong": _RED, "mistake": _RED}
_PLAIN_INK = "var(--jp-ui-font-color1, #1a1a1a)"


def paragraphs(words):
    """Plain text as HTML: a blank line begins a paragraph, a line end stays one."""
    parts = (escape(part.strip()).replace("\n", "<br>") for part in words.split("\n\n"))
    return "".join(f'<p style="margin:0 0 6px 0;line-height:1.5;max-width:900px">{part}</p>' for part in parts)


def heading(words, place=""):
    """The title of a card; place: what a link to it is called."""
    name = f' id="{place}"' if place else ""
    return f'<div{name} role="heading" aria-level="4" style="font-weight:600">{escape(words)}</div>'


def card(title, *parts, place=""):
    """A box with a title over widgets under one another; place: what a link to it is called."""
    return widgets.VBox([widgets.HTML(heading(title, place)), *parts], layout=BORDER)


def row(*parts):
    """Widgets beside one another, or on the next line where there is no room."""
    return widgets.HBox(parts, layout=WRAPPED)


def aside(words):
    """A widget of a note in softer ink."""
    return widgets.HTML(f'<div style="opacity:0.85">{escape(words)}</div>')


def spoken(words, status=""):
    """HTML that is read out when it changes: the words of a verdict, with a mark as well as a colour."""
    mark = f"{_MARKS[status]} " if status in _MARKS else ""
    ink = _INKS.get(status, _PLAIN_INK)
    return (
        '<div role="status" aria-live="polite" style="line-height:1.5;max-width:900px;'
        f'color:{ink}">{mark}{escape(words)}</div>'
    )


def console_box(title, controls, view, *, above=(), least="340px"):
    """The box of a console: controls beside what they show where both fit, over it where they do not.

    above: what stands over both. least: how wide the controls are, at least.
    """
    left = widgets.VBox(controls, layout={"flex": f"1 1 {least}", "min_width": "0"})
    right = widgets.VBox(view, layout={"flex": "999 1 560px", "min_width": "0"})
    left.add_class("course-controls")
    body = widgets.HBox([left, right], layout={**BESIDE, "grid_gap": "0 16px"})
    box = widgets.VBox([widgets.HTML(heading(title)), *above, body], layout=FRAME)
    box.add_class("course-console")
    return box


def answers_html(answers, before, system):
    """HTML of a console's Answers, large, each with what it was `before` (Answers too, or none) and the change."""
    was, told = {(each.name, each.kind): each.value for each in before}, ""
    for each in answers:
        number, space, unit = text(each.value, each.kind, system).partition(" ")
        told += (
            '<div class="course-answer" style="flex:1 1 120px;margin:6px 0;line-height:1.3">'
            f"<div>{escape(each.name)}</div>"
            f'<div><span style="font-size:2em;font-weight:600">{escape(number)}</span>{space}{escape(unit)}</div>'
            f"<div>{escape(change_words(each, was.get((each.name, each.kind)), system)) or '&nbsp;'}</div></div>"
        )
    return f'<div style="display:flex;flex-wrap:wrap;gap:0 12px">{told}</div>' if told else ""


def change_words(answer, was, system):
    """What an Answer was before, and how it has changed, in words; "" where there is no before."""
    if was is None:
        return ""
    now, told = float(answer.value), text(was, answer.kind, system)
    if told == text(now, answer.kind, system):
        return "as before"
    ratio = now / was if was else 0.0
    if ratio >= _TIMES:
        return f"was {told}: now {f'{ratio:.2g}' if ratio < 100 else f'{ratio:.0f}'} times as much"
    if 0.0 < ratio <= 1.0 / _TIMES:
        return f"was {told}: now {100 * ratio:.2g} % of it"
    share = f" ({100 * (ratio - 1.0):+.2g} %)".replace("-", "\u2212") if ratio > 0 else ""
    return f"was {told}: {'up' if now > was else 'down'}{share}"


def beside(words, status=""):
    """The same for one field: a few words beside it."""
    ink = _INKS.get(status, _PLAIN_INK)
    return f'<span role="alert" style="color:{ink}">{_MARKS.get(status, "")} {escape(words)}</span>'


def folded(title, body):
    """HTML `body` under a title that opens it."""
    return f'<details><summary style="cursor:pointer">{escape(title)}</summary>{body}</details>'


def tabled(heads, rows, head="padding:2px 10px;text-align:left", cell="padding:2px 10px"):
    """HTML of a table of texts; head, cell: CSS of its cells."""
    lines = ["".join(f'<th scope="col" style="{head}">{escape(each)}</th>' for each in heads)]
    lines += ["".join(f'<td style="{cell}">{escape(each)}</td>' for each in row) for row in rows]
    return f"<table>{''.join(f'<tr>{line}</tr>' for line in lines)}</table>"


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


# --- over the whole window: one thing at a time, by the page's own script (`screen/page/show.js`) --------------------

_HIDDEN = "<style>.jl-needs-page,.jl-trainer-notes,.jl-show:not([popover]){display:none !important}</style>"


def named(widget, *names):
    """The widget, known to the page's script and style by these names."""
    for name in names:
        widget.add_class(name)
    return widget


def show_button(action, words="Show it alone"):
    """The button that opens the box made by `show_box` in the same card; only where the page has its script."""
    return named(button(words, action, hint="Over the whole window; Esc closes it"), "jl-show-open", "jl-needs-page")


def shown_alone(main, own):
    """(button, box): what the button shows is in the box from the first press on, so that nothing is there twice."""
    place, few = widgets.VBox(), widgets.HBox()

    def fill():
        place.children, few.children = (main,), own

    return show_button(fill), show_box([place], [named(few, "jl-own")])


def show_box(main, own=(), *, head=None, back=None, next_=None):
    """The box: `main`, a list, as large as the window lets it be, and `own`, the few controls it needs.

    head: a widget above. back, next_: what the arrows and a presenter's remote do.
    """
    arrows = [
        named(button(sign, action, hint=hint), name) if action else widgets.HTML()
        for sign, action, hint, name in (("◀", back, "Back", "jl-back"), ("▶", next_, "Next", "jl-next"))
    ]
    shut = named(button("✕", lambda: None, hint="Close (Esc)"), "jl-show-close")
    controls = named(widgets.HBox([arrows[0], *own, arrows[1], shut]), "jl-controls")
    parts = [widgets.HTML(_HIDDEN), named(head or widgets.HTML(), "jl-head"), named(widgets.VBox(main), "jl-main")]
    return named(widgets.VBox([*parts, controls]), "jl-show")


# --- files handed over, wherever the kernel runs ------------------------------------------------------

_KINDS = {
    ".html": "text/html",
    ".pdf": "application/pdf",
    ".toml": "application/toml",
    ".json": "application/json",
}
_MOST_BYTES = 12_000_000  # in a link that holds the file itself


def link(path):
    """HTML of the link to the file at a Path, of one of these kinds; "" where it can't be."""
    try:
        data = path.read_bytes()
    except OSError:
        return ""
    if len(data) > _MOST_BYTES or path.suffix not in _KINDS:
        return ""
    address = f"data:{_KINDS[path.suffix]};base64,{b64encode(data).decode('ascii')}"
    name = escape(path.name, quote=True)
    return f'<div><a download="{name}" href="{address}" style="text-decoration:underline">Get {name}</a></div>'


def saved(place, write, where):
    """(words, status) of `write(place)`, which gives the Path it wrote; where: words before that path."""
    if not place.strip():
        return "Not saved: write the name of a file or a folder first.", "wrong"
    try:
        return f"{where} {write(place.strip())}.", ""
    except JetlibError as error:
        return f"Not saved: {page_words(error)}", "wrong"
