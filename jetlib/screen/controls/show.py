"""A box that is shown over the whole window, one thing at a time, by the page's own script (`screen/page/show.js`)."""

import ipywidgets as widgets

from jetlib.screen.controls.pieces import button

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
