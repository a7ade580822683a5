"""What is ranked, best first: a dataclass whose first field holds it in order works as a sequence."""

from dataclasses import fields


class Ranked:
    """A sequence of what the first field of the dataclass holds."""

    @property
    def _held(self):
        return getattr(self, fields(self)[0].name)

    def __len__(self):
        return len(self._held)

    def __getitem__(self, place):
        return self._held[place]

    def __iter__(self):
        return iter(self._held)
