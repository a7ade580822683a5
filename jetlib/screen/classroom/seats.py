"""The seats of a room as voters beside the hands: a button that asks them, and their votes as they come."""

import asyncio

from jetlib.course.classroom.seat_votes import asked_of_seats, put_up, take_down, tally, votes_folder
from jetlib.screen.controls.pieces import button
from jetlib.tables.atomic import Unwritable

_EVERY = 2.0  # seconds from look to look, while the seats are asked


class Seats:
    """`press` is the button; it is there only where a room is. tally: the seats' votes for each option, or ().

    question(): (key, ask by unit system, options by unit system) of what is up, or None. heard(): called when the
    seats' votes have changed. say(words): tells the trainer.
    """

    def __init__(self, question, heard, say):
        self._question, self._heard, self._say = question, heard, say
        self._folder, self._asked, self.tally = votes_folder(), None, ()
        self.press = button("Let the seats vote", self.ask, hint="The question goes to every seat of the room")
        self.press.layout.display = None if self._folder else "none"

    def ask(self):
        """Put the question up at the seats, and look for their votes until it is taken down."""
        question = self._question()
        if question is None or self._folder is None or (self._asked and self._asked.key == question[0]):
            return
        if self._write("The seats cannot be asked", put_up, *question):
            self._asked = asked_of_seats(self._folder)
            self.tally = (0,) * len(self._asked.options["US"])
            self._say("The seats are asked. Their votes come in as they are cast.")
            self._later()

    def go_on(self):
        """Take up what was asked before the kernel stopped: it counts what has come since."""
        question, asked = self._question(), self._folder and asked_of_seats(self._folder)
        if question and asked and asked.key == question[0]:
            self._asked, self.tally = asked, tuple(asked.counted) or (0,) * len(asked.options["US"])
            self._later()

    def look(self):
        """Read the seats' votes now; once something else is asked, what has been counted stays."""
        if not self._is_up():
            self._asked, self.tally = None, ()
            return
        now, before = tally(self._folder, self._asked), self.tally
        if now != before:
            self.tally = now
            self._heard(tuple(one - other for one, other in zip(now, before, strict=True)))
            asked = self._asked  # what has been counted is kept: nothing is counted twice after the kernel has stopped
            self._write("Not kept", put_up, asked.key, asked.ask, asked.options, now)

    def stop(self):
        """Take the question down: the seats' votes are in, whatever comes later."""
        up, self._asked, self.tally = self._is_up(), None, ()
        if up:
            self._write("The seats still show the question", take_down)

    def _is_up(self):
        """Whether what was asked here is what the seats are asked: another vote of the page may have asked since."""
        found = self._asked and asked_of_seats(self._folder)
        return bool(found) and found.key == self._asked.key

    def _write(self, refused, write, *given):
        """Whether `write(folder, *given)` could; where not, the trainer is told."""
        try:
            write(self._folder, *given)
        except Unwritable as problem:
            self._say(f"{refused}: {problem}.")
            return False
        return True

    def _later(self):
        try:
            asyncio.get_running_loop().call_later(_EVERY, self._tick, self._asked)
        except RuntimeError:  # no loop in a plain program: `look` is called by what needs the votes
            return

    def _tick(self, asked):
        if asked is self._asked and asked is not None:
            self.look()
            self._later()
