"""Teams, what they named, and their points over several drills; kept on disk, and written out as a table."""

import contextlib
import time
from dataclasses import asdict, dataclass, field

from jetlib.course.classroom.hidden_fault.deal import MINUTES
from jetlib.course.classroom.hidden_fault.reveal import truth_words
from jetlib.course.store.bench_store import NEWER, BenchStore
from jetlib.course.store.csv_out import write_csv
from jetlib.course.store.locked_folder import copy_before
from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.faults import fault_named
from jetlib.units.refusal import cut

FEWEST_TEAMS, MOST_TEAMS, LONGEST_LABEL = 2, 6, 20
MOST_DRILLS = 200
_LONGEST_PATH = 1000
RIGHT = {True: 10, False: 6}
WRONG = {True: -5, False: 0}
MINUTES_A_POINT = 5
RULE = (
    f"Right and sure: {RIGHT[True]} points; right as a guess: {RIGHT[False]}. A right answer also earns 1 point for "
    f"each {MINUTES_A_POINT} whole minutes left when the team locked. Wrong and sure: {WRONG[True]} points; wrong as a "
    f"guess, or nothing named: {WRONG[False]}."
).replace("-", "\u2212")
HEADS = (
    "drill", "time", "rig", "seed", "minutes spent", "what was wrong",
    "team", "named", "how sure", "locked at minute", "points", "points so far",
)  # fmt: skip
CSV_NAME = "fault_drills.csv"
NOW = "fault_drills.json"


@dataclass(frozen=True)
class Answer:
    """What a team named: a fault's name, whether it was sure, and the minute at which it locked."""

    named: str = ""
    sure: bool = False
    minute: float | None = None


def points(answer, truth, minutes=MINUTES):
    """Points (a whole number) of an Answer when `truth` (a fault's name) was the cause; see RULE.

    minutes: that the room had.
    """
    if answer.named != truth:
        return WRONG[answer.sure]
    return RIGHT[answer.sure] + int(max(minutes - answer.minute, 0.0) // MINUTES_A_POINT)


def read_teams(labels):
    """Labels of 2 to 6 teams as a tuple, cleaned; JetlibError for too many, too few, or two alike."""
    found = [" ".join(str(label).split()) for label in labels]
    found = [label for label in found if label]
    for label in found:
        if len(label) > LONGEST_LABEL or not label.isprintable():
            raise JetlibError(f"team is {cut(label)}; write a label of 1 to {LONGEST_LABEL} letters and figures")
    if not FEWEST_TEAMS <= len(found) <= MOST_TEAMS:
        raise JetlibError(f"there are {len(found)} teams; write {FEWEST_TEAMS} to {MOST_TEAMS}, with commas between")
    if len({label.casefold() for label in found}) < len(found):
        raise JetlibError("two teams have the same label; write different ones")
    return tuple(found)


@dataclass
class ScoreBoard:
    """Teams and what came of each drill; results: dicts of plain values, oldest first."""

    teams: tuple = ("Team 1", "Team 2")
    results: list = field(default_factory=list)

    def add(self, hunt, answers, *, minutes=MINUTES):
        """Put down a revealed FaultHunt; answers: {team: Answer}. Returns {team: points}."""
        truth, named = hunt.hidden.fault.name, {team: answers.get(team, Answer()) for team in self.teams}
        given = {team: points(answer, truth, minutes) for team, answer in named.items()}
        self.results.append(
            {
                "time": time.strftime("%Y-%m-%d %H:%M", time.localtime()),
                "rig": hunt.rig.name or "own rig",
                "seed": hunt.seed,
                "minutes": hunt.minutes,
                "fault": truth,
                "severity": float(hunt.hidden.severity),
                "teams": {team: {**asdict(answer), "points": given[team]} for team, answer in named.items()},
            }
        )
        del self.results[:-MOST_DRILLS]
        return given

    @property
    def totals(self):
        """{team: points so far}, for the teams of now."""
        return {
            team: sum(result["teams"][team]["points"] for result in self.results if team in result["teams"])
            for team in self.teams
        }

    @property
    def rows(self):
        """Rows of text and numbers under HEADS, one for each team and drill."""
        found, so_far = [], {}
        for number, result in enumerate(self.results, start=1):
            seed = "set by the trainer" if result["seed"] is None else result["seed"]
            truth = truth_words(fault_named(result["fault"]), result["severity"])
            head = (number, result["time"], result["rig"], seed, result["minutes"], truth)
            for team, each in result["teams"].items():
                so_far[team] = so_far.get(team, 0) + each["points"]
                named = fault_named(each["named"]).words if each["named"] else "nothing"
                sure = "" if not each["named"] else "sure" if each["sure"] else "guess"
                minute = "" if each["minute"] is None else each["minute"]
                found.append((*head, team, named, sure, minute, each["points"], so_far[team]))
        return found

    def save_csv(self, path):
        """Write the table to `path`, or into a folder, as CSV; returns the Path. Raises JetlibError."""
        path = str(path).strip()
        if not 0 < len(path) <= _LONGEST_PATH:
            raise JetlibError(f"there is no such path; write where the table should go, such as {CSV_NAME}")
        return write_csv(path, HEADS, self.rows, name=CSV_NAME)

    def held(self):
        """Plain values that `board_of` makes a ScoreBoard of again."""
        return {"teams": list(self.teams), "results": self.results}


def board_of(held):
    """The ScoreBoard of plain values; JetlibError for anything that is none."""
    try:
        board = ScoreBoard(read_teams(held["teams"]), [_result(each) for each in held["results"][:MOST_DRILLS]])
        assert isinstance(board.rows, list)  # reads every value once
    except (KeyError, TypeError, ValueError, AttributeError, OverflowError, RecursionError):
        raise JetlibError("the saved hidden faults cannot be read") from None
    return board


def _result(held):
    fault = fault_named(held["fault"])
    severity = float(held["severity"])
    seed = held["seed"] if held["seed"] is None else int(held["seed"])
    teams = {}
    for team, each in zip(read_teams(held["teams"]), held["teams"].values(), strict=True):
        named, minute = fault_named(each["named"]).name if each["named"] else "", each["minute"]
        answer = Answer(named, bool(each["sure"]), None if minute is None else float(minute))
        teams[team] = {**asdict(answer), "points": int(each["points"])}
    if not fault.low <= severity <= fault.high:
        raise ValueError("no size of this fault")
    words = {name: " ".join(str(held[name]).split())[:80] for name in ("time", "rig")}
    minutes = float(held["minutes"])
    return {**words, "seed": seed, "minutes": minutes, "fault": fault.name, "severity": severity, "teams": teams}


class HuntStore(BenchStore):
    """Where drills are kept: one file beside the progress, whole or not at all, with the copy before it.

    A fault that a trainer has set is never in it before it is revealed; of one that a seed dealt the seed is.
    """

    def load(self):
        """(what was kept: a dict with "board", and more as it was kept; sentences for the reader)."""
        words, names = [], (NOW, copy_before(NOW)) if self._held(NOW) is not None else ()
        for name in names:
            held = self._held(name)
            with contextlib.suppress(JetlibError, KeyError, TypeError):
                return {**held, "board": board_of(held["board"])}, words
            if held is NEWER:
                words = ["The saved hidden faults are from a later version of the course. They were left alone."]
            elif name == NOW:
                words = ["The saved hidden faults could not be read. The copy before them is used, if there is one."]
        return {"board": ScoreBoard()}, words

    def keep(self, board, **more):
        """Write the ScoreBoard and other plain values. Raises Unwritable, and has then changed nothing."""
        with self._locked():
            self._put(NOW, {"board": board.held(), **more})
