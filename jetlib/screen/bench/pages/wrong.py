"""The bench's question what is wrong: causes ranked by the readings, and the check that would tell most."""

from functools import lru_cache

from jetlib.rig.change.factors import UNMEASURED, USED, Knowledge
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.parts.part import Same
from jetlib.screen.bench.entries.sheet import READINGS, meaning_of
from jetlib.screen.drawing.diagnosis_picture import diagnosis_picture

ROWS = (tuple(READINGS), ("known",))
_KNOWN = {"card": Knowledge(), "sizes": UNMEASURED, "old": USED}


def draw(state):
    """The Picture of the Diagnosis of a BenchState: of the healthy rig against what was read today."""
    texts = tuple(state.held["sheet"][name] for name in READINGS)
    healthy = state.healthy
    known = _KNOWN[state.value("known")] if healthy is None else healthy.spread
    return diagnosis_picture(_diagnosis(Same(state.healthy_rig), texts, known), state.system)


@lru_cache(maxsize=8)
def _diagnosis(rig, texts, known):
    readings = (meaning_of(name, typed) for name, typed in zip(READINGS, texts, strict=True))
    return diagnose(rig.held, [each for each in readings if each is not None], spread=known)
