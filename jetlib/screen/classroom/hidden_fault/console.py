"""A drill for a room: a hidden fault, a gauge to read, checks to spend minutes on, teams that name the cause."""

import contextlib
from itertools import zip_longest
from os import PathLike

import ipywidgets as widgets

from jetlib.course.classroom.hidden_fault.deal import MINUTES, STOPS, asked_seed, secret_hunt, seeded_hunt
from jetlib.course.classroom.hidden_fault.reveal import revealed
from jetlib.course.classroom.hidden_fault.scores import CSV_NAME, MOST_TEAMS, RULE, Answer, HuntStore, read_teams
from jetlib.course.store.checked_row import among
from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.faults import FAULTS, faults_of
from jetlib.rig.diagnosis.readings import throttle_name
from jetlib.rig.point.cautions import SEE_THE_MANUAL
from jetlib.screen.classroom.hidden_fault.page import gauge_picture, log_html, reveal_html, scores_html
from jetlib.screen.classroom.hidden_fault.setup import CostSheet, SecretPanel, TeamRow
from jetlib.screen.controls.card import Card, room_card
from jetlib.screen.controls.fields import choice, line
from jetlib.screen.controls.pieces import aside, beside, bundle, button, row, saved, shown_alone, spoken
from jetlib.screen.controls.rig_choice import rig_of, rig_options
from jetlib.screen.drawing.large import CHECKS, CLASS, wide
from jetlib.tables.atomic import Unwritable
from jetlib.units.entry import count
from jetlib.units.refusal import page_words

_ONE_FAULT = "There is one fault at a time, or none: two at once are not in the drill."


def hidden_fault(
    rig: str = "yard_trailer",
    *,
    system: str | None = None,
    title: str = "Hidden fault",
    folder: str | PathLike | None = None,
) -> "HiddenFaultConsole":
    """The HiddenFaultConsole console. folder: where scores are kept; beside the progress unless given."""
    return HiddenFaultConsole(rig, system=system, title=title, folder=folder)


class HiddenFaultConsole(Card):
    """hunt: the FaultHunt under way, or None. board: the ScoreBoard. answers: {team: Answer} locked so far.

    What is hidden is in no widget, no text and no file before `reveal` has been pressed.
    """

    def __init__(self, rig, *, system, title, folder):
        super().__init__(system)
        self.minutes, self._rig_key = MINUTES, among(rig, [key for _, key in rig_options()], "rig is")
        self._set_hunt(None)
        self._store = HuntStore(folder)
        held, words = self._store.load()
        self.board = held["board"]
        self._make_widgets(rig, title)
        self._take_up(held)
        self._show()
        if words:
            self._say(" ".join(words))

    @property
    def under_way(self):
        """Whether there is a drill whose truth has not been shown."""
        return self.hunt is not None and self.reveal_shown is None

    # --- what the buttons do ---

    def deal(self, seed=None):
        """A new drill: dealt by `seed`, by what stands in the field, or by a fresh one."""
        typed = self._seed.value if seed is None else str(seed)
        with self._refusing("No drill: {}", "wrong"):
            self._begin(seeded_hunt(self._rig(), asked_seed(typed), costs=self._costs.costs))

    def set_in_secret(self, name, size=""):
        """A new drill with a fault that the trainer sets. Returns what is wrong with it, "" for nothing."""
        try:
            self._begin(secret_hunt(self._rig(), name, size, costs=self._costs.costs))
        except JetlibError as error:
            return page_words(error, self.system)
        return ""

    def look(self, throttle):
        """Move the throttle to one of STOPS, or None to stop the pump."""
        self._throttle = throttle
        if self.under_way and throttle is not None:
            self.hunt.look(throttle)
            self._keep()
        self._show()

    def spend(self, key):
        """Make a check."""
        if not self.under_way:
            self._say("Deal a fault first." if self.hunt is None else "This drill is over: deal a new one.")
        elif key not in self.hunt.checks:
            self._say("This check is not for this rig.")
        else:
            again = key in self.hunt.done
            self.hunt.costs.update(self._costs.costs)
            self._latest = step = self.hunt.spend(key)
            self._done("That was done before: it reads the same, and costs nothing more." if again else step.caution)

    def lock(self, team, name, sure):
        """A team names a cause; it cannot be changed."""
        if not self.under_way:
            self._say("There is no drill to answer: deal a fault first.")
        elif team in self.answers:
            self._say(f"{team} has locked already.")
        elif name not in FAULTS:
            self._say(f"{team}: choose a cause first.", "wrong")
        else:
            self.answers[team] = Answer(name, bool(sure), self.hunt.minutes)
            self._done(f"{team} has locked at minute {self.hunt.minutes:g}.")

    def reveal(self, *, anyway=False):
        """Show what it was; asks once more while a team has named nothing, unless `anyway`."""
        if not self.under_way:
            self._say("There is nothing to reveal: deal a fault first.")
            return
        missing = [team for team in self.board.teams if team not in self.answers]
        if missing and not anyway and not self._warned:
            self._warned = True
            self._say(f"Not named yet: {', '.join(missing)}. Press once more to reveal all the same.")
            return
        self._say("Working it out: this takes some seconds.")
        self.reveal_shown = revealed(self.hunt)
        points = self.board.add(self.hunt, self.answers, minutes=self.minutes)
        self._given = {team: (self.answers.get(team), won) for team, won in points.items()}
        self._done("The truth stands below.")

    def save_csv(self):
        """Write the scores to the CSV file, or into the folder, that is named."""
        self._say(*saved(self._csv.value, self.board.save_csv, "The scores are in"))

    def begin_scores_anew(self):
        """All points back to none; the drill under way stays."""
        self.board.results.clear()
        self._done()

    # --- inside ---

    def _rig(self):
        typed = self._file.value.strip()
        self._rig_key = typed or self._choice.value
        return rig_of(self._rig_key)

    def _set_hunt(self, hunt, answers=None, latest=None):
        self.hunt, self.answers, self._latest = hunt, answers or {}, latest
        self.reveal_shown, self._given, self._throttle, self._warned = None, {}, None, False

    def _begin(self, hunt):
        self._set_hunt(hunt)
        self._done("A fault is hidden, or none.")

    def _done(self, words=None):
        self._keep()
        self._show()
        if words is not None:
            self._say(words)

    def _keep(self):
        """Scores, teams, costs, and of a drill that a seed dealt what it takes to go on with it."""
        drill = kept_hunt(self.hunt, self._rig_key, self.answers) if self.under_way else None
        try:
            self._store.keep(self.board, costs=self._costs.costs, minutes=self.minutes, drill=drill)
            self._kept.value = ""
        except Unwritable as problem:
            self._kept.value = beside(f"Not kept on disk: {problem}. Write the scores to a file before you close.")

    def _take_up(self, held):
        """Go on where the kernel stopped: teams, costs and a drill that a seed dealt."""
        self._costs.take(held.get("costs"))
        minutes = held.get("minutes")
        if isinstance(minutes, int | float) and not isinstance(minutes, bool) and 0 < minutes <= 600:
            self.minutes = float(minutes)
        self._budget.value = f"{self.minutes:g}"
        self._teams.value = ", ".join(self.board.teams)
        found = taken_up(held.get("drill"), self._costs.costs)
        if found is None:
            return
        hunt, answers, self._rig_key = found
        if self._rig_key in [key for _, key in rig_options()]:
            self._choice.value = self._rig_key
        checks = [step for step in hunt.steps if not isinstance(step.key, float)]
        self._set_hunt(hunt, answers, checks[-1] if checks else None)

    # --- the page ---

    def _make_widgets(self, rig, title):
        self._choice = choice("Rig", rig_options(), rig, width="330px", label_width="40px")
        self._file = line("or a rig file", hint="path; empty for the list", width="420px", label_width="110px")
        self._seed = line("Seed", hint="a new one", width="230px", label_width="50px")
        self._teams = line("Teams", hint="two to six labels, commas between", width="560px", label_width="70px")
        self.heard(self._teams, self._named_teams)
        self._budget = line("Minutes", hint="45", width="150px", label_width="80px")
        self.heard(self._budget, self._set_minutes)
        self._csv = line("Scores to", hint=f"a folder or {CSV_NAME}", width="480px", label_width="90px")
        self._image, self._words, self._kept, self._dealt = (widgets.HTML() for _ in range(4))
        self._log, self._told, self._scores = (widgets.HTML() for _ in range(3))
        stops = [("stopped", None), *((throttle_name(stop).removesuffix(" throttle"), stop) for stop in STOPS)]
        self._levers = widgets.ToggleButtons(options=stops, value=None, description="Throttle")
        self._levers.style.button_width = "112px"
        self.heard(self._levers, self.look)
        self._costs = CostSheet(self._show_buttons)
        self._secret = SecretPanel(self.set_in_secret, lambda: faults_of(self._rig()))
        self._checks = {
            key: button(label, lambda key=key: self.spend(key), hint=label) for key, label in self._costs.labels.items()
        }
        self._check_box = widgets.GridBox(list(self._checks.values()), layout=CHECKS)
        self._check_box.add_class(f"{CLASS}-checks")
        self._rows = [TeamRow(self) for _ in range(MOST_TEAMS)]
        self._reveal = button("Reveal", self.reveal, hint="Show what it was")
        opener, alone = shown_alone(*self.on_stage(()))
        scores = self._csv, button("Write CSV", self.save_csv), button("Begin the scores anew", self.begin_scores_anew)
        self.box = room_card(
            title,
            row(self._choice, self._file),
            row(
                self._seed,
                self._dealt,
                button("Hide a fault", self.deal, hint="Dealt by the seed, or by a new one"),
                button("Trainer sets it …", self._secret.open, hint="Blank the projector first"),
                opener,
                button("Costs …", self._costs.toggle, hint="What each check costs, in minutes"),
            ),
            self._secret.box,
            self._costs.box,
            self._image,
            alone,
            self._levers,
            self._words,
            widgets.HTML("<b>Checks</b> and their minutes, at full throttle where the pump runs:"),
            self._check_box,
            self._said,
            row(self._teams, self._budget),
            *(each.box for each in self._rows),
            row(self._reveal),
            self._told,
            self._log,
            self._scores,
            row(*scores),
            self._kept,
            aside(f"{_ONE_FAULT} {RULE} Minutes of checks: common practice, no source. {SEE_THE_MANUAL}"),
        )

    def on_stage(self, _):
        """The picture, and what a room needs to hunt: deal, throttle, a list of checks, reveal."""
        checks = [(label, key) for key, label in self._costs.labels.items()]
        pick = widgets.Dropdown(options=[("choose a check …", ""), *checks], value="")
        made = button("Check", lambda: self.spend(pick.value) if pick.value else None)
        deal = button("Hide a fault", self.deal)
        return self._image, [deal, self._levers, row(pick, made), self._reveal]

    def _named_teams(self, typed):
        with self._refusing("Not used: {}", "wrong"):
            teams = read_teams(typed.split(","))
            if teams != self.board.teams:
                self.board.teams = teams
                self._done()

    def _set_minutes(self, typed):
        with self._refusing("Not used: {}", "wrong"):
            self.minutes = float(count(typed.strip().removesuffix("utes").removesuffix("min"), 1, 600))
            self._done()

    def _show(self):
        hunt, shown = self.hunt, self.reveal_shown
        rig = self._rig_quietly() if hunt is None else hunt.rig
        self.picture = gauge_picture(rig, hunt, self._throttle, self.system, minutes=self.minutes, latest=self._latest)
        self._image.value = wide(self.picture, 62)
        # The seed beside its field, and not in the picture that a room is shown: it deals the same fault again.
        seed = hunt.seed if hunt else ""
        self._dealt.value = "Set by the trainer." if seed is None else f"This is seed {seed}." if hunt else ""
        self._words.value = spoken(self.picture.words)
        with self.quietly():
            self._levers.value = self._throttle
        self._show_buttons()
        for each, team in zip_longest(self._rows, self.board.teams):
            each.show(team, faults_of(rig))
        self._log.value = log_html(hunt, self.system) if shown is None else ""
        self._told.value = "" if shown is None else reveal_html(shown, self._given, self.system)
        self._scores.value = scores_html(self.board)

    def _rig_quietly(self):
        try:
            return rig_of(self._choice.value)
        except JetlibError:
            return rig_of(rig_options()[0][1])

    def _show_buttons(self):
        """Labels with minutes; a check that was done is marked, one not for this rig is not offered."""
        done = self.hunt.done if self.hunt is not None else set()
        for key, made in self._checks.items():
            offered = self.hunt is None or key in self.hunt.checks
            made.layout.display = None if offered else "none"
            mark = "\u2714 " if key in done else ""
            made.description = f"{mark}{self._costs.labels[key]}: {self._costs.costs[key]:g}\u00a0min"
            made.disabled = not self.under_way

    def _repr_mimebundle_(self, include=None, exclude=None):
        return bundle(self.box, self.picture.words, self.picture.image())


def kept_hunt(hunt, rig_key, answers):
    """What it takes to go on with a drill that a seed dealt; None for one that a trainer set: that stays secret."""
    if hunt.seed is None:
        return None
    return {
        "rig": rig_key,
        "seed": hunt.seed,
        "steps": [[step.key, step.minutes] for step in hunt.steps],
        "answers": {team: [each.named, each.sure, each.minute] for team, each in answers.items()},
    }


def taken_up(kept, costs):
    """(drill, answers, key of the rig) from what was kept; None where it cannot be gone on with."""
    with contextlib.suppress(Exception):  # whatever a damaged file holds, a fresh drill can be dealt
        hunt = seeded_hunt(rig_of(kept["rig"]), kept["seed"], costs=costs)
        for key, minutes in kept["steps"]:
            step = hunt.look(key) if isinstance(key, float) else hunt.spend(key)
            step.minutes = float(minutes)
        answers = {team: Answer(named, bool(sure), float(at)) for team, (named, sure, at) in kept["answers"].items()}
        if all(answer.named in FAULTS for answer in answers.values()):
            return hunt, answers, kept["rig"]
    return None
