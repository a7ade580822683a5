"""Runs inside a lesson's kernel: moves every control as the page would, and reports every error it caused.

An error in a widget's callback is swallowed by most notebook runners. Here each change goes through `set_state`, the
door that the page's messages come through, and whatever is raised, or shown as a traceback, is put down.
"""

import json

import ipywidgets as widgets
from ipywidgets.widgets.widget import _instances

SLIDERS = (widgets.IntSlider, widgets.FloatSlider)
LISTS = (widgets.Dropdown, widgets.ToggleButtons, widgets.RadioButtons, widgets.Select)
JUNK = ["", "abc", "12", "1e999", "-3 gpm", "NaN psi", "5 furlong", "9**9**9", "__import__('os')", "x" * 10_000]


def drive():
    """A dict: how many moves were made, the errors, and the sliders that changed nothing on screen."""
    errors, moves, still = [], 0, []
    shell = get_ipython()  # noqa: F821
    shown = shell.showtraceback
    shell.showtraceback = lambda *args, **kwargs: errors.append("traceback shown by a callback")
    try:
        for widget in list(_instances.values()):
            start = _start(widget)
            made, changed = _move(widget, errors)
            moves += made
            if isinstance(widget, SLIDERS) and not changed:
                still.append(widget)
            _send(widget, start)
        idle = [_name(widget) for widget in still if not _moves_something_else_moved(widget, errors)]
    finally:
        shell.showtraceback = shown
    return {"moves": moves, "errors": errors, "idle": idle}


def _move(widget, errors):
    """(How many moves were made, whether a slider ever changed the screen.)"""
    states, asked = _states(widget), isinstance(widget, SLIDERS)
    before, changed = _screen() if asked else None, False
    for state in states:
        try:
            _send(widget, state)
        except Exception as error:
            errors.append(f"{_name(widget)} given {str(state)[:60]}: {type(error).__name__}: {str(error)[:200]}")
        changed = changed or (asked and _screen() != before)
    return len(states), changed


def _moves_something_else_moved(slider, errors):
    """Whether a slider that does nothing at first does something once other controls stand elsewhere.

    Where a bend is does not matter as long as there is none.
    """
    others = [each for each in list(_instances.values()) if isinstance(each, (*SLIDERS, *LISTS)) and each is not slider]
    starts = [_start(each) for each in others]
    found = False
    for choice in (0, -1):
        for each in others:
            index = choice % len(each.options) if isinstance(each, LISTS) else None
            _send(each, {"value": _third(each)} if index is None else {"index": index})
        found = found or _move(slider, errors)[1]
    for each, start in zip(others, starts, strict=True):
        _send(each, start)
    return found


def _third(slider):
    return slider.min + round((slider.max - slider.min) / 3)


def _states(widget):
    if isinstance(widget, SLIDERS):
        return [{"value": value} for value in (widget.min, _third(widget), widget.max, _third(widget))]
    if isinstance(widget, LISTS):
        return [{"index": index} for index in [*range(len(widget.options)), 0]]
    if isinstance(widget, widgets.SelectMultiple):
        return [{"index": ()}, {"index": tuple(range(len(widget.options)))}]
    if isinstance(widget, widgets.Checkbox):
        return [{"value": True}, {"value": False}, {"value": True}]
    if isinstance(widget, widgets.Text | widgets.Textarea):
        start = widget.value
        return [*({"value": junk} for junk in JUNK), {"value": start}]
    if isinstance(widget, widgets.Button):
        # A sheet of paper is the same the second time, and takes a browser of its own for seconds.
        return ["click"] if widget.description.startswith("Print") else ["click", "click"]
    return []


def _send(widget, state):
    if state == "click":
        widget._handle_custom_msg({"event": "click"}, [])
    else:
        widget.set_state(state)


def _start(widget):
    """What puts a control back, so that each is tried with all others where they began. A button cannot be."""
    if isinstance(widget, LISTS):
        return {"index": widget.index}
    if isinstance(widget, (*SLIDERS, widgets.Checkbox)):
        return {"value": widget.value}
    return {}


def _screen():
    return [w.value for w in list(_instances.values()) if isinstance(w, widgets.HTML)]


def _name(widget):
    """Its own label, or that of its neighbour in the same row."""
    rows = [box.children for box in _instances.values() if isinstance(box, widgets.HBox) and widget in box.children]
    beside = [each for row in rows for each in row if getattr(each, "description", "")]
    label = getattr(widget, "description", "") or (beside[0].description if beside else widget.model_id[:6])
    return f"{type(widget).__name__} {label}"


print("DRIVEN " + json.dumps(drive()))
