"""The room vote: a question in large type, hands counted, the answer only after that; a second vote and the gain."""

import os
from dataclasses import replace
from datetime import UTC, datetime
from os import PathLike
from pathlib import Path

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.vote import advice, gain_words, is_prediction, question
from jetlib.course.classroom.vote_file import STAGES, VoteFile, begun, remember, remembered, unfinished
from jetlib.course.store.locked_folder import home
from jetlib.errors import JetlibError
from jetlib.screen.classroom.seats import Seats
from jetlib.screen.classroom.vote_fields import VoteFields
from jetlib.screen.classroom.vote_picture import line_picture, on_stage, tally_words, vote_picture
from jetlib.screen.controls.card import Card
from jetlib.screen.controls.pieces import beside, bundle, folded, framed, heading, paragraphs
from jetlib.screen.drawing.filled import filled
from jetlib.screen.drawing.large import wide
from jetlib.screen.drawing.theme import FONT
from jetlib.tables.atomic import Unwritable
from jetlib.units import SYSTEMS
from jetlib.units.refusal import page_words

_fill = filled(__file__)
_FIRST = "02-double-flow"
_HIGH = 84  # hundredths of the window that the question may take
_STAGE_WORDS = dict(zip(STAGES, ("First vote", "Second vote", "Answer shown"), strict=True))


def room_vote(
    name: str | None = None, *, seed: int = 1, system: str | None = None, folder: str | PathLike | None = None
) -> "RoomVote":
    """The RoomVote of the page: a vote left unfinished in the newest session, or a fresh one on the question `name`.

    folder: where the sessions are kept; where the trainer kept them last, or the folder of the progress, unless given.
    """
    return RoomVote(name, seed=seed, system=system, folder=folder)


class RoomVote(Card):
    """A vote. `vote` is what has been counted, `asked` its Question. The methods do what the controls do."""

    def __init__(self, name=None, *, seed=1, system=None, folder=None):
        super().__init__(system)
        self.folder = remembered() or home() if folder is None else Path(folder)
        self.file, self.vote, self.asked = None, None, None
        self.seats = Seats(self._at_seats, self._add_seats, self._say)
        left = unfinished(folder) if name is None else None
        self.fields = VoteFields(self, left[1].question if left else name or _FIRST)
        self.box = self.fields.box
        if left:
            self.file, vote = left
            self.folder = self.file.folder
            self._open(vote)
            self.seats.go_on()
            self._say(f"A vote was left unfinished. It goes on as it was, in {self.file.path.name}. {self._state()}")
        else:
            self.put(name or _FIRST, seed)

    def put(self, name, seed=1):
        """Put a question up, with nothing counted yet."""
        people = self.vote.people if self.vote else 0
        self.seats.stop()
        self._open(begun(name, 1 if is_prediction(name) else seed, _now(), people))
        self._say("Read it out. Everybody decides alone first. Then hands up, and count.")

    def other_numbers(self):
        """The same question with the next seed's numbers."""
        self.put(self.vote.question, self.vote.seed + 1)

    def count(self, tally):
        """The hands counted so far, one number for each option. True when taken."""
        return self._take(lambda: self.vote.counted(tally))

    def add(self, at, hands):
        """Some hands more for the option at this place, or fewer."""
        tally = list(self.vote.now)
        tally[at] += hands
        if tally[at] >= 0:
            self.count(tally)

    def talk(self):
        """On to the second vote; seats that were asked are asked again."""
        self.seats.look()
        again = bool(self.seats.tally)
        if self._take(lambda: self.vote.talk(_now())):
            self.seats.stop()
            if again:
                self.seats.ask()
            self.fields.fresh_tape()
            self._say("Two minutes in pairs, each with somebody who voted differently. Then count again.")

    def show_answer(self, *, anyway=False):
        """Show the answer; refused before the first vote, unless `anyway`."""
        self.seats.look()
        if self._take(lambda: self.vote.reveal(_now(), anyway=anyway)):
            self.seats.stop()
            self.fields.fresh_tape()

    def invite(self, people):
        """How many are in the room; 0: nobody has said."""
        self.vote = replace(self.vote, people=people)
        if self.vote.votes:
            self._keep()
        self._say(self._state())

    def keep_in(self, name, place):
        """Another name or folder for the session. Raises ValueError, OSError, RuntimeError for one that will not do."""
        folder = Path(os.path.abspath(os.path.expanduser(place))) if place else home()
        if place and not folder.is_dir():
            raise ValueError("there is no such folder; make it first, or leave the field empty")
        self.file = VoteFile(name, folder) if name else None
        self.folder = folder
        remember(folder)
        if self.vote.votes:
            self._keep()

    def use_units(self, system):
        """Word everything in "US" or "metric"."""
        self.system = system
        self.show()
        if self.vote.votes or self.vote.stage == STAGES[2]:
            self._say(self._state())

    def show(self):
        """Draw the page as the vote stands."""
        answered = self.vote.stage == STAGES[2]
        self.picture = vote_picture(self.asked, self.vote, self.system, hidden=self.fields.hide.value)
        self.fields.picture.value = wide(self.picture, _HIGH)
        self.fields.large.value = on_stage(self.asked, self.vote, self.system, hidden=self.fields.hide.value)
        self.fields.show(self.vote.now, shut=answered)
        self.fields.answer.value = self._answer_html() if answered else ""
        self.fields.trainer.value = "" if answered else self._trainer_html()

    def _at_seats(self):
        """What the seats are asked: this question, as it stands; nothing once its answer is shown."""
        if self.vote.stage == STAGES[2]:
            return None
        ask, options = ({system: show(system) for system in SYSTEMS} for show in (self.asked.ask, self.asked.options))
        return f"{self.vote.id} {self.vote.stage}", ask, options

    def _add_seats(self, more):
        self.count([max(one + other, 0) for one, other in zip(self.vote.now, more, strict=True)])

    def _open(self, vote):
        self.vote, self.asked = vote, question(vote.question, vote.seed)
        self.fields.open(vote, self.asked)
        self.show()

    def _take(self, change):
        """Make a change to the vote, or say why not. True when made."""
        try:
            self.vote = change()
        except JetlibError as problem:
            words = page_words(problem, self.system)
            self._say(f"{words[:1].upper()}{words[1:]}.")
            self.show()
            return False
        self.fields.tape.refuse(None)
        self._keep()
        self.show()
        self._say(self._state())
        return True

    def _keep(self):
        try:
            if self.file is None:
                self.file = VoteFile(datetime.now().strftime("%Y-%m-%d"), self.folder)
            said = self.file.put(self.vote, self.system)
        except (Unwritable, ValueError) as problem:
            words = f"Not saved: {problem}. The count stands on this page only."
            self.fields.kept.value = beside(words, "wrong")
            return
        self.fields.kept.value = paragraphs(" ".join([*said, f"Saved in {self.file.path}"]))

    # --- words ---

    def _answer_html(self):
        asked, system = self.asked, self.system
        first, second = self.vote.shares(asked.right)
        gain = "" if first is None or second is None else gain_words(first, second)
        line = line_picture(asked, system)
        ideas = [(at, idea) for at, idea in enumerate(asked.ideas, start=1) if idea is not None]
        slips = [f"{at}, {idea.name}: {self._said_of(idea)}" for at, idea in ideas]
        drawn = wide(line, 40) if line else ""
        return _fill("answered", asked=asked, system=system, gain=gain, line=drawn, slips=slips, font=FONT)

    def _said_of(self, idea):
        exercise = bank.exercise(self.asked.name)
        variant = exercise.variant(self.asked.seed).in_system(self.system)
        return exercise.say(idea.words, variant.parameters, self.system)

    def _trainer_html(self):
        """What the trainer may unfold: it tells how many are right, and so is shut until wanted."""
        first, second = self.vote.shares(self.asked.right)
        share = first if second is None else second
        if share is None:
            return ""
        gain = f"\n\n{gain_words(first, second)}" if second is not None else ""
        words = f"{100.0 * share:.0f} % are right. {advice(share)}{gain}"
        return folded("For the trainer: what to do next (it tells how many are right)", paragraphs(words))

    def _state(self):
        vote = self.vote
        of = f" of {vote.people}" if vote.people else ""
        words = f"{_STAGE_WORDS[vote.stage]}, {vote.votes}{of} have voted."
        if vote.people and vote.votes > vote.people:
            words += " That is more hands than people: count again."
        if not self.fields.hide.value or vote.stage == STAGES[2]:
            words += f" {tally_words(vote)}"
        if vote.stage == STAGES[2]:
            right = self.asked.options(self.system)[self.asked.right]
            words += f" Right is {self.asked.right + 1}: {right.rstrip('.')}."
        return words

    def _repr_mimebundle_(self, include=None, exclude=None):
        fresh = begun(self.vote.question, self.vote.seed, "")  # stored without anybody's votes
        picture = vote_picture(self.asked, fresh, self.system)
        options = self.asked.options(self.system)
        lines = [self.asked.ask(self.system), *(f"{at + 1}  {words}" for at, words in enumerate(options))]
        html = framed(heading("Room vote") + picture.image() + paragraphs("Run this page to count hands here."))
        return bundle(self.box, "\n".join(lines), html)


def _now():
    return datetime.now(UTC).isoformat(timespec="seconds")
