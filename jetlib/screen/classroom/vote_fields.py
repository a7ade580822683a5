"""The controls of a room vote: what to ask, a counter for each option, keys to count by, where it is kept.

They read and mark what is typed; what is done with it is told to the vote by its own methods.
"""

import ipywidgets as widgets

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.vote import MOST_OPTIONS, is_prediction, titles
from jetlib.course.classroom.vote_file import MOST_VOTES
from jetlib.course.pages.contents import pages
from jetlib.errors import JetlibError
from jetlib.screen.controls.fields import Quiet, line, marked
from jetlib.screen.controls.pieces import WIDE, button, heading, spoken
from jetlib.screen.controls.show import named, shown_alone
from jetlib.screen.drawing.large import BORDER, CLASS, ROW, STYLE
from jetlib.units.entry import count
from jetlib.units.refusal import page_words

_LONGEST_TAPE = 300


class VoteFields(Quiet):
    """The controls for a RoomVote. `box` holds them all; `quiet` is on while they are written to and not typed in."""

    def __init__(self, room, name):
        self.room = room
        self.tape = (0,) * MOST_OPTIONS
        self.picture, self.answer, self.trainer = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self.said, self.kept = widgets.HTML(spoken("")), widgets.HTML()
        self.wrong_people, self.wrong_count, self.wrong_place = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self._make_question(name)
        self._make_counters()
        self._make_rest()
        self._buttons = self._make_buttons()
        self.large = widgets.HTML()  # the question, or its answer, as a room is shown it
        self.few = [
            named(widgets.HBox([self.tape_field]), "jl-count"),
            self._buttons[0],
            room.seats.press,
            self._buttons[1],
        ]
        self._alone = shown_alone(self.large, self.few)
        self.box = widgets.VBox(
            [
                widgets.HTML(STYLE + heading("Room vote")),
                widgets.HBox([self.lesson, self.name], layout=ROW),
                self.picture,
                self._alone[1],
                self.said,
                self.answer,
                widgets.HBox([self.tape_field, self.wrong_count], layout=ROW),
                self.counters,
                widgets.HBox([self._alone[0], room.seats.press, *self._buttons], layout=ROW),
                self.trainer,
                self.hide,
                widgets.HBox([self.people, self.wrong_people], layout=ROW),
                widgets.HBox([self.session, self.place, self.wrong_place], layout=ROW),
                self.kept,
            ],
            layout=BORDER,
        )
        self.box.add_class(CLASS)

    def open(self, vote, asked):
        """Show which question is up; what was typed on the keys so far is in the count, and the field begins anew."""
        with self.quietly():
            self.lesson.value = asked.lesson
            self.name.options = titles(asked.lesson)
            self.name.value = vote.question
            self.people.value = str(vote.people or "")
        self.counters.children = tuple(self._rows[: asked.count])
        self._buttons[-1].disabled = is_prediction(vote.question)
        self.fresh_tape()

    def fresh_tape(self):
        """Begin the keys anew."""
        self.tape = (0,) * self.room.asked.count
        with self.quietly():
            self.tape_field.value = ""
        self.wrong_count.value = ""

    def show(self, tally, *, shut):
        """Write the tally to the counters; shut: nothing is counted any more."""
        with self.quietly():
            for field, hands in zip(self.counts, tally, strict=False):
                field.value = str(hands)
        for field in (*self.counts, self.tape_field):
            field.disabled = shut

    # --- making them ---

    def _make_question(self, name):
        lessons = [(each.name, each.number) for each in pages() if each.number in bank.lessons()]
        self.lesson = widgets.Dropdown(options=lessons, value=name[:2], description="Lesson", style=WIDE)
        self.heard(self.lesson, lambda number: self.room.put(titles(number)[0][1]))
        self.name = widgets.Dropdown(options=titles(name[:2]), value=name, description="Question", style=WIDE)
        self.name.layout = {"width": "480px", "max_width": "100%"}
        self.heard(self.name, lambda name: self.room.put(name) if name is not None else None)

    def _make_counters(self):
        self.counts = [
            line(f"Hands for {at + 1}", hint="0", width="190px", label_width="initial") for at in range(MOST_OPTIONS)
        ]
        for at, field in enumerate(self.counts):
            self.heard(field, lambda typed, at=at: self._typed_count(at, typed))
        self._rows = [self._counter(at) for at in range(MOST_OPTIONS)]
        self.counters = widgets.HBox(layout=ROW)
        self.tape_field = line("Count here", hint="a key 1 to 5 for each hand", width="440px", label_width="initial")
        self.tape_field.continuous_update = True
        self.heard(self.tape_field, self._typed_tape)

    def _counter(self, at):
        less = button("−", lambda: self.room.add(at, -1), hint=f"One hand fewer for {at + 1}")
        more = button("+", lambda: self.room.add(at, 1), hint=f"One hand more for {at + 1}")
        for each in (less, more):
            each.layout = {"width": "44px"}
        return widgets.HBox([less, self.counts[at], more], layout={"margin": "0 16px 4px 0", "align_items": "center"})

    def _make_buttons(self):
        return [
            button("Talk, then vote again", self.room.talk, hint="Keep the first vote and count a second one"),
            button("Show the answer", self.room.show_answer),
            button("Show it anyway", lambda: self.room.show_answer(anyway=True), hint="The answer without a vote"),
            button("Same question, other numbers", self.room.other_numbers),
        ]

    def _make_rest(self):
        self.hide = widgets.Checkbox(value=False, description="No bars before the answer", indent=False)
        self.hide.layout = {"width": "auto", "max_width": "100%"}
        self.hide.observe(lambda _: self.room.show(), names="value")
        self.people = line("People in the room", hint="such as 12", width="300px", label_width="initial")
        self.heard(self.people, self._typed_people)
        self.session = line("Name of the session", hint="today's date", width="360px", label_width="initial")
        self.place = line("Folder for it", hint="empty: beside the progress", width="420px", label_width="initial")
        for field in (self.session, self.place):
            field.observe(self._typed_place, names="value")

    # --- what is typed and chosen ---

    def _typed_count(self, at, typed):
        if at >= self.room.asked.count:
            return
        tally = list(self.room.vote.now)
        try:
            tally[at] = count(typed, 0, MOST_VOTES)
        except JetlibError as error:
            self.wrong_count.value = marked(error)
            return
        self.room.count(tally)

    def _typed_tape(self, typed):
        """Each figure from 1 up is a hand; what is taken off the end is taken back."""
        keys = [str(at + 1) for at in range(self.room.asked.count)]
        if len(typed) > _LONGEST_TAPE or any(sign not in (*keys, " ") for sign in typed):
            self.wrong_count.value = marked(f"type {keys[0]} to {keys[-1]}, a key for each hand.")
            return
        tape = tuple(typed.count(key) for key in keys)
        tally = [max(now - was + new, 0) for now, was, new in zip(self.room.vote.now, self.tape, tape, strict=True)]
        if self.room.count(tally):
            self.tape = tape

    def _typed_people(self, typed):
        try:
            people = count(typed, 0, MOST_VOTES) if typed.strip() else 0
        except JetlibError as error:
            self.wrong_people.value = marked(f"{page_words(error)}, or nothing")
            return
        self.wrong_people.value = ""
        self.room.invite(people)

    def _typed_place(self, _):
        try:
            self.room.keep_in(self.session.value.strip(), self.place.value.strip())
        except (ValueError, OSError, RuntimeError) as problem:
            self.wrong_place.value = marked(problem)
            return
        self.wrong_place.value = ""
