"""The controls of a room vote: what to ask, a counter for each option, keys to count by, where it is kept.

They read and mark what is typed; what is done with it is told to the vote by its own methods.
"""

import ipywidgets as widgets

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.vote import MOST_OPTIONS, is_prediction, titles
from jetlib.course.classroom.vote_file import MOST_VOTES
from jetlib.course.pages.contents import pages
from jetlib.errors import JetlibError
from jetlib.screen.controls.card import room_card
from jetlib.screen.controls.fields import Quiet, ReadField, choice, line, marked
from jetlib.screen.controls.pieces import WIDE, button, named, row, shown_alone
from jetlib.units.entry import count
from jetlib.units.refusal import page_words

_LONGEST_TAPE = 300


class VoteFields(Quiet):
    """The controls for a RoomVote. `box` holds them all; `quiet` is on while they are written to and not typed in."""

    def __init__(self, room, name):
        self.room, self._counted = room, ()  # what the keys have counted so far, for each option
        self.picture, self.answer, self.trainer, self.kept, self.wrong_place = (widgets.HTML() for _ in range(5))
        self.large = widgets.HTML()  # the question, or its answer, as a room is shown it
        self._make_question(name)
        self._make_counters()
        self.hide = widgets.Checkbox(value=False, description="No bars before the answer", indent=False)
        self.hide.layout = {"width": "auto", "max_width": "100%"}
        self.hide.observe(lambda _: room.show(), names="value")
        self.people = ReadField("People in the room", _people, room.invite, hint="such as 12", width="300px",
                                label_width="initial")  # fmt: skip
        self.session = line("Name of the session", hint="today's date", width="360px", label_width="initial")
        self.place = line("Folder for it", hint="empty: beside the progress", width="420px", label_width="initial")
        for field in (self.session, self.place):
            field.observe(self._typed_place, names="value")
        talk = button("Talk, then vote again", room.talk, hint="Keep the first vote and count a second one")
        answer = button("Show the answer", room.show_answer)
        anyway = button("Show it anyway", lambda: room.show_answer(anyway=True), hint="The answer without a vote")
        self._other = button("Same question, other numbers", room.other_numbers)
        self.few = [named(row(self.tape.entry), "jl-count"), talk, room.seats.press, answer]
        opener, alone = shown_alone(self.large, self.few)
        self.box = room_card(
            "Room vote",
            row(self.lesson, self.name),
            self.picture,
            alone,
            room._said,
            self.answer,
            self.tape.box,
            self.counters,
            row(opener, room.seats.press, talk, answer, anyway, self._other),
            self.trainer,
            self.hide,
            self.people.box,
            row(self.session, self.place, self.wrong_place),
            self.kept,
        )

    def open(self, vote, asked):
        """Show which question is up; what was typed on the keys so far is in the count, and the field begins anew."""
        with self.quietly():
            self.lesson.value = asked.lesson
            self.name.options = titles(asked.lesson)
            self.name.value = vote.question
        self.people.clear(str(vote.people or ""))
        self.counters.children = tuple(self._rows[: asked.count])
        self._other.disabled = is_prediction(vote.question)
        self.fresh_tape()

    def fresh_tape(self):
        """Begin the keys anew."""
        self._counted = (0,) * self.room.asked.count
        self.tape.clear()

    def show(self, tally, *, shut):
        """Write the tally to the counters; shut: nothing is counted any more."""
        with self.quietly():
            for field, hands in zip(self.counts, tally, strict=False):
                field.value = str(hands)
        for field in (*self.counts, self.tape.entry):
            field.disabled = shut

    # --- making them ---

    def _make_question(self, name):
        lessons = [(each.name, each.number) for each in pages() if each.number in bank.lessons()]
        self.lesson = widgets.Dropdown(options=lessons, value=name[:2], description="Lesson", style=WIDE)
        self.heard(self.lesson, lambda number: self.room.put(titles(number)[0][1]))
        self.name = choice("Question", titles(name[:2]), name, width="480px", label_width="initial")
        self.heard(self.name, lambda name: self.room.put(name) if name is not None else None)

    def _make_counters(self):
        self.counts = [
            line(f"Hands for {at + 1}", hint="0", width="190px", label_width="initial") for at in range(MOST_OPTIONS)
        ]
        for at, field in enumerate(self.counts):
            self.heard(field, lambda typed, at=at: self._typed_count(at, typed))
        self._rows = [self._counter(at) for at in range(MOST_OPTIONS)]
        self.counters = row()
        self.tape = ReadField("Count here", self._keys, self._count_keys, hint="a key 1 to 5 for each hand",
                              width="440px", label_width="initial")  # fmt: skip
        self.tape.entry.continuous_update = True

    def _counter(self, at):
        less = button("−", lambda: self.room.add(at, -1), hint=f"One hand fewer for {at + 1}")
        more = button("+", lambda: self.room.add(at, 1), hint=f"One hand more for {at + 1}")
        for each in (less, more):
            each.layout = {"width": "44px"}
        return widgets.HBox([less, self.counts[at], more], layout={"margin": "0 16px 4px 0", "align_items": "center"})

    # --- what is typed and chosen ---

    def _typed_count(self, at, typed):
        if at >= self.room.asked.count:
            return
        tally = list(self.room.vote.now)
        try:
            tally[at] = count(typed, 0, MOST_VOTES)
        except JetlibError as error:
            self.tape.refuse(error)
            return
        self.room.count(tally)

    def _keys(self, typed):
        """Hands for each option: each figure from 1 up is one."""
        keys = [str(at + 1) for at in range(self.room.asked.count)]
        if len(typed) > _LONGEST_TAPE or any(sign not in (*keys, " ") for sign in typed):
            raise JetlibError(f"type {keys[0]} to {keys[-1]}, a key for each hand.")
        return tuple(typed.count(key) for key in keys)

    def _count_keys(self, hands):
        """Count what has come on the keys; what is taken off the end is taken back."""
        tally = zip(self.room.vote.now, self._counted, hands, strict=True)
        if self.room.count([max(now - was + new, 0) for now, was, new in tally]):
            self._counted = hands

    def _typed_place(self, _):
        try:
            self.room.keep_in(self.session.value.strip(), self.place.value.strip())
        except (ValueError, OSError, RuntimeError) as problem:
            self.wrong_place.value = marked(problem)
            return
        self.wrong_place.value = ""


def _people(typed):
    try:
        return count(typed, 0, MOST_VOTES) if typed.strip() else 0
    except JetlibError as error:
        raise JetlibError(f"{page_words(error)}, or nothing") from None
