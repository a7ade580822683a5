"""Runs inside a lesson's kernel: moves every control as the page would, and reports every error it caused.

An error in a widget's callback is swallowed by most notebook runners. Here each change goes through `set_state`, the
door that the page's messages come through, and whatever is raised, or shown as a traceback, is put down.
"""

import json

import ipywidgets as widgets
from ipywidgets.widgets.widget import _instances

JUNK = ["", "abc", "12", "1e999", "-3 gpm", "NaN psi", "5 furlong", "9**9**9", "__import__('os')", "x" * 10_000]


def drive():
    """A dict: how many moves were made, the errors, and the sliders that changed nothing on screen."""
    errors, moves, idle = [], 0, []
    shell = get_ipython()  # noqa: F821
    shown = shell.showtraceback
    shell.showtraceback = lambda *args, **kwargs: errors.append("traceback shown by a callback")
    try:
        for widget in list(_instances.values()):
            name, before, changed = _name(widget), _screen(), False
            start = getattr(widget, "value", None)
            for state in _states(widget):
                moves += 1
                try:
                    _send(widget, state)
                except Exception as error:
                    errors.append(f"{name} given {str(state)[:60]}: {type(error).__name__}: {str(error)[:200]}")
                changed = changed or _screen() != before
            if isinstance(widget, widgets.IntSlider | widgets.FloatSlider) and not changed:
                idle.append(name)
            _restore(widget, start)
    finally:
        shell.showtraceback = shown
    return {"moves": moves, "errors": errors, "idle": idle}


def _states(widget):
    if isinstance(widget, widgets.IntSlider | widgets.FloatSlider):
        middle = widget.min + round((widget.max - widget.min) / 3)
        return [{"value": value} for value in (widget.min, middle, widget.max, middle)]
    if isinstance(widget, widgets.Dropdown | widgets.ToggleButtons | widgets.RadioButtons | widgets.Select):
        return [{"index": index} for index in [*range(len(widget.options)), 0]]
    if isinstance(widget, widgets.SelectMultiple):
        return [{"index": ()}, {"index": tuple(range(len(widget.options)))}]
    if isinstance(widget, widgets.Checkbox):
        return [{"value": True}, {"value": False}, {"value": True}]
    if isinstance(widget, widgets.Text | widgets.Textarea):
        start = widget.value
        return [*({"value": junk} for junk in JUNK), {"value": start}]
    if isinstance(widget, widgets.Button):
        return ["click", "click"]
    return []


def _send(widget, state):
    if state == "click":
        widget._handle_custom_msg({"event": "click"}, [])
    else:
        widget.set_state(state)


def _restore(widget, start):
    """Each control is tried with all others where they began, as far as they can be put back."""
    if isinstance(widget, widgets.ToggleButtons | widgets.Dropdown):
        widget.set_state({"index": 0})
    elif isinstance(widget, widgets.IntSlider | widgets.FloatSlider):
        widget.set_state({"value": start})


def _screen():
    return [w.value for w in list(_instances.values()) if isinstance(w, widgets.HTML)]


def _name(widget):
    """Its own label, or that of its neighbour in the same row."""
    rows = [box.children for box in _instances.values() if isinstance(box, widgets.HBox) and widget in box.children]
    beside = [each for row in rows for each in row if getattr(each, "description", "")]
    label = getattr(widget, "description", "") or (beside[0].description if beside else widget.model_id[:6])
    return f"{type(widget).__name__} {label}"


print("DRIVEN " + json.dumps(drive()))
