"""The forks of a callout: what a room can choose from at this moment, up to five ways, some of them unsafe."""

from jetlib.course.callouts.kinds import DECISIONS
from jetlib.units import text, to_si

_STEP, _BACK = {"US": 20, "metric": 6}, {"US": 5, "metric": 1.5}  # of hose at a time, ft or m


def forks(play, system="US"):
    """(words, action) of the ways there are now, a tuple; the action of a decision is its name alone. () at the end."""
    if play.end is not None:
        return ()
    if play.plan is None:
        return tuple((words, (key,)) for key, words in DECISIONS.items())
    step, little = (float(to_si(each[system], "length", system)) for each in (_STEP, _BACK))
    far = text(step, "length", system, 2)
    acts = {act.key: act.label for act in play.dealt.kind.acts}
    if not play.inside:
        return (
            ("Put the nozzle into the pipe", ("put_in",)),
            ("Start the pump at idle", ("throttle", 0.0)),
            ("Clean the jets, fit the right set", ("fix", "jets")),
            ("A drill shank in each jet", ("check", "jets")),
            ("Call the yard for another machine", ("call", "yard")),
        )
    if play.throttle is None:
        return (
            ("Start at idle", ("throttle", 0.0)),
            ("Relieve the pressure at the outlet", ("relieve",)),
            ("Pull the hose back to the opening", ("back", 100.0)),
            ("Take the nozzle out", ("take_out",)),
            (acts["coupling"], ("act", "coupling")),
        )
    if play.stopped_by is not None:
        return (
            ("Go back a little, and on again", ("back", little)),
            ("Push on", ("feed", step)),
            ("Throttle down to idle and look", ("throttle", 0.0)),
            ("Call the owner", ("call", "owner")),
            (acts["valve"], ("act", "valve")),
        )
    working = ("Throttle down to idle and look", ("throttle", 0.0))
    if play.throttle == 0.0:
        working = ("Throttle up to the plan", ("throttle", play.setup.throttle))
    return (
        working,
        (f"Feed in {far}", ("feed", step)),
        (f"Pull back {far}", ("back", step)),
        ("Stop the pump", ("stop",)),
        (acts["out"], ("act", "out")),
    )


def chosen(ways, hands):
    """The place of the way that most hands are for, the first of equals; None where nobody votes."""
    counts = [*hands, *[0] * len(ways)][: len(ways)]
    return counts.index(max(counts)) if max(counts) > 0 else None
