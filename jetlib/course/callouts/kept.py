"""Callouts under way, kept with the learner's progress: the record of each place where one is played."""

import contextlib

from jetlib.course.callouts.play import replay
from jetlib.course.store.bench_store import BenchStore

NOW, BEFORE = "callouts.json", "callouts.previous.json"
MOST_PLACES = 12


class CalloutStore(BenchStore):
    """One file beside the progress, whole or not at all: the record of the callout played last at each place."""

    def kept(self, place):
        """(the Play that was kept at a place, a dict of what was kept with it); (None, {}) where there is none."""
        held = self._places().get(place)
        with contextlib.suppress(Exception):  # whatever a damaged file holds, a fresh callout can be dealt
            return replay(held["record"]), dict(held["more"])
        return None, {}

    def keep(self, place, play, more):
        """Keep a Play, and plain values with it, in the place of the one before. Raises Unwritable."""
        with self._locked():
            places = self._places()
            places.pop(place, None)
            places[place] = {"record": play.record(), "more": more}
            self._write_both(NOW, BEFORE, dict(list(places.items())[-MOST_PLACES:]))

    def _places(self):
        return next((held for held in map(self._held, (NOW, BEFORE)) if isinstance(held, dict)), {})
