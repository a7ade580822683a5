"""The controls of a room vote: what to ask, a counter for each option, keys to count by, where it is kept.

They read and mark what is typed; what is done with it is told to the vote by its own methods.
"""

import ipywidgets as widgets

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.vote import MOST_OPTIONS, is_prediction, titles
from jetlib.course.classroom.vote_file import MOST_VOTES
from jetlib.course.pages.contents import pages
from jetlib.screen.controls.pieces import WIDE, beside, button, heading, spoken
from jetlib.screen.drawing.large import BORDER, CLASS, ROW, STYLE
from jetlib.units import SYSTEMS

_LONGEST_TAPE = 300


class VoteFields:
    """The controls for a RoomVote. `box` holds them all; `quiet` is on while they are written to and not typed in."""

    def __init__(self, room, name):
        self.room, self.quiet = room, False
        self.tape = (0,) * MOST_OPTIONS
        self.picture, self.answer, self.trainer = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self.said, self.kept = widgets.HTML(spoken("")), widgets.HTML()
        self.wrong_people, self.wrong_count, self.wrong_place = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self._make_question(name)
        self._make_counters()
        self._make_rest()
        self._buttons = self._make_buttons()
        self.box = widgets.VBox(
            [
                widgets.HTML(STYLE + heading("Room vote")),
                self.units,
                widgets.HBox([self.lesson, self.name], layout=ROW),
                self.picture,
                self.said,
                self.answer,
                widgets.HBox([self.tape_field, self.wrong_count], layout=ROW),
                self.counters,
                widgets.HBox(self._buttons, layout=ROW),
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
        self.quiet = True
        try:
            self.lesson.value = asked.lesson
            self.name.options = titles(asked.lesson)
            self.name.value = vote.question
            self.people.value = str(vote.people or "")
        finally:
            self.quiet = False
        self.counters.children = tuple(self._rows[: asked.count])
        self._buttons[-1].disabled = is_prediction(vote.question)
        self.fresh_tape()

    def fresh_tape(self):
        """Begin the keys anew."""
        self.tape = (0,) * self.room.asked.count
        self._write(self.tape_field, "")
        self.wrong_count.value = ""

    def show(self, tally, *, shut):
        """Write the tally to the counters; shut: nothing is counted any more."""
        for field, hands in zip(self.counts, tally, strict=False):
            self._write(field, str(hands))
        for field in (*self.counts, self.tape_field):
            field.disabled = shut

    def _write(self, field, value):
        self.quiet = True
        try:
            field.value = value
        finally:
            self.quiet = False

    # --- making them ---

    def _make_question(self, name):
        self.units = widgets.ToggleButtons(options=list(SYSTEMS), value=self.room.system, description="Units")
        self.units.style.button_width = "90px"
        self.units.observe(lambda change: self.room.use_units(change["new"]), names="value")
        lessons = [(each.name, each.number) for each in pages() if each.number in bank.lessons()]
        self.lesson = widgets.Dropdown(options=lessons, value=name[:2], description="Lesson", style=WIDE)
        self.lesson.observe(self._chose_lesson, names="value")
        self.name = widgets.Dropdown(options=titles(name[:2]), value=name, description="Question", style=WIDE)
        self.name.layout = {"width": "480px", "max_width": "100%"}
        self.name.observe(self._chose, names="value")

    def _make_counters(self):
        self.counts = [_entry(f"Hands for {at + 1}", "0", "190px") for at in range(MOST_OPTIONS)]
        for at, field in enumerate(self.counts):
            field.observe(lambda change, at=at: self._typed_count(at, change["new"]), names="value")
        self._rows = [self._counter(at) for at in range(MOST_OPTIONS)]
        self.counters = widgets.HBox(layout=ROW)
        self.tape_field = _entry("Count here", "a key 1 to 5 for each hand", "440px")
        self.tape_field.continuous_update = True
        self.tape_field.observe(self._typed_tape, names="value")

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
        self.people = _entry("People in the room", "such as 12", "300px")
        self.people.observe(self._typed_people, names="value")
        self.session = _entry("Name of the session", "today's date", "360px")
        self.place = _entry("Folder for it", "empty: beside the progress", "420px")
        for field in (self.session, self.place):
            field.observe(self._typed_place, names="value")

    # --- what is typed and chosen ---

    def _chose_lesson(self, change):
        if not self.quiet:
            self.room.put(titles(change["new"])[0][1])

    def _chose(self, change):
        if not self.quiet and change["new"] is not None:
            self.room.put(change["new"])

    def _typed_count(self, at, typed):
        if self.quiet or at >= self.room.asked.count:
            return
        hands = whole(typed)
        if hands is None:
            self.wrong_count.value = beside(f"Not used: write a whole number from 0 to {MOST_VOTES}.", "wrong")
            return
        tally = list(self.room.vote.now)
        tally[at] = hands
        self.room.count(tally)

    def _typed_tape(self, change):
        """Each figure from 1 up is a hand; what is taken off the end is taken back."""
        if self.quiet:
            return
        typed, keys = change["new"], [str(at + 1) for at in range(self.room.asked.count)]
        if len(typed) > _LONGEST_TAPE or any(sign not in (*keys, " ") for sign in typed):
            self.wrong_count.value = beside(f"Not used: type {keys[0]} to {keys[-1]}, a key for each hand.", "wrong")
            return
        tape = tuple(typed.count(key) for key in keys)
        tally = [max(now - was + new, 0) for now, was, new in zip(self.room.vote.now, self.tape, tape, strict=True)]
        if self.room.count(tally):
            self.tape = tape

    def _typed_people(self, change):
        if self.quiet:
            return
        people = whole(change["new"]) if change["new"].strip() else 0
        if people is None:
            words = f"Not used: write a whole number up to {MOST_VOTES}, or nothing."
            self.wrong_people.value = beside(words, "wrong")
            return
        self.wrong_people.value = ""
        self.room.invite(people)

    def _typed_place(self, _):
        try:
            self.room.keep_in(self.session.value.strip(), self.place.value.strip())
        except (ValueError, OSError, RuntimeError) as problem:
            self.wrong_place.value = beside(f"Not used: {problem}.", "wrong")
            return
        self.wrong_place.value = ""


def whole(typed):
    """A whole number that a count can be, or None."""
    typed = typed.strip()
    fits = typed.isascii() and typed.isdigit() and len(typed) < 5 and int(typed) <= MOST_VOTES
    return int(typed) if fits else None


def _entry(label, hint, width):
    layout = {"width": width, "max_width": "100%"}
    return widgets.Text(description=label, placeholder=hint, continuous_update=False, style=WIDE, layout=layout)
