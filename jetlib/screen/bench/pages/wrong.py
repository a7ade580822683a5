"""The bench's question what is wrong: causes ranked by the readings, and the check that would tell most."""

from functools import lru_cache

from jetlib.rig.change.factors import UNMEASURED, USED, Knowledge
from jetlib.rig.diagnosis.diagnosis import diagnose
from jetlib.rig.parts.part import Same
from jetlib.screen.bench.entries.sheet import READINGS
from jetlib.screen.bench.entries.state import readings_of
from jetlib.screen.drawing.diagnosis_picture import diagnosis_picture

ENTRIES = (*READINGS, "known")
_KNOWN = {"card": Knowledge(), "sizes": UNMEASURED, "old": USED}


def draw(state):
    """The Picture of the Diagnosis of a BenchState: of the healthy rig against what was read today."""
    healthy = state.healthy
    known = _KNOWN[state.value("known")] if healthy is None else healthy.spread
    found = _diagnosis(Same(state.healthy_rig), state.read_texts, known)
    return diagnosis_picture(found, state.system)


@lru_cache(maxsize=8)
def _diagnosis(rig, texts, known):
    return diagnose(rig.held, list(readings_of(texts).values()), spread=known)
