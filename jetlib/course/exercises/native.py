"""Numbers as people say them: what somebody chose is a round number in the reader's own units.

A hose of 150 ft is one of 45 m in a metric question, not of 45.7 m, and everything is worked out anew from that.
"""

from jetlib.units import from_si, to_si

# kind: (from this number on, step) in US units, and in metric ones, the largest first.
_CHOSEN = {
    "pressure": ((), ((100, 5), (20, 1), (0, 0.5))),
    "flow": ((), ((10, 1), (2, 0.5), (0, 0.1))),
    "length": ((), ((12.5, 5), (5, 1), (1, 0.5), (0, 0.1))),
    "altitude": ((), ((500, 100), (0, 50))),
    "pipe_bore": ((), ((50, 5), (0, 1))),
    "leak_bore": ((), ((0, 0.01),)),
    "volume": ((), ((500, 50), (60, 10), (15, 5), (0, 1))),
    "force": ((), ((100, 5), (0, 1))),
    "mass_per_length": ((), ((0.3, 0.05), (0, 0.01))),
    "power": ((), ((10, 1), (0, 0.5))),
    "temperature": ((), ((0, 5),)),
    "velocity": ((), ((0.2, 0.05), (0, 0.01))),
}
_FOUND = {
    "pressure": (((200, 10), (100, 5), (20, 1), (0, 0.5)), ((20, 1), (2, 0.1), (0, 0.05))),
    "flow": (((2, 0.1), (1, 0.05), (0, 0.01)), ((20, 0.5), (4, 0.1), (1, 0.05), (0, 0.01))),
    "length": (((100, 5), (0, 1)), ((30, 1), (0, 0.5))),
    "volume": (((100, 10), (0, 1)), ((300, 50), (100, 10), (0, 1))),
    "force": (((30, 1), (5, 0.5), (2, 0.1), (0, 0.02)), ((50, 5), (20, 1), (2, 0.1), (0, 0.02))),
    "mass_per_length": (((0, 0.01),), ((0, 0.01),)),
    "power": (((5, 0.5), (0, 0.1)), ((5, 0.5), (0, 0.1))),
    "duration": (((10, 1), (0, 0.5)), ((10, 1), (0, 0.5))),
    "velocity": (((0, 0.05),), ((0.2, 0.05), (0, 0.01))),
    "speed": (((0, 10),), ((0, 10),)),
}
_SIZES = ("length", "altitude", "pipe_bore", "volume", "temperature", "velocity")


def chosen(value, kind, system):
    """An SI value that somebody chose, as one would choose it in `system`; SI."""
    return _stepped(value, kind, system, _CHOSEN)


def found(value, kind, system):
    """An SI value that is read or worked out, to the step one would read it to in `system`; SI."""
    return _stepped(value, kind, system, _FOUND)


def _stepped(value, kind, system, steps):
    number = from_si(value, kind, system) if kind in steps else 0.0
    for floor, step in steps.get(kind, ((), ()))[system == "metric"]:
        if abs(number) >= floor:
            return to_si(round(number / step) * step, kind, system) if round(number / step) else value
    return value


def native(drawn, given, kinds, system):
    """The parameters of a variant in `system`: what was drawn as it is chosen there, and what `given` finds from it."""
    new = {name: chosen(value, kinds[name], system) if name in kinds else value for name, value in drawn.items()}
    more = given(new)
    return new | {name: found(value, kinds[name], system) if name in kinds else value for name, value in more.items()}


def as_said(parameters, kinds, system):
    """Parameters of a question that stays the same in both systems, its sizes as one would say them; SI."""
    said = {name: chosen(parameters[name], kinds[name], system) for name in kinds if kinds[name] in _SIZES}
    return {**parameters, **said}
