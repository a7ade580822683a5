"""Session plans for a trainer: steps with minutes, page, settings, question, wrong ideas, and what to do next.

A plan is a TOML file in data/session_plans/. What it names must exist, its minutes must add up, and what it promises
that the room will see is worked out when it is shown; a plan that breaks a rule is refused with the line to mend.
"""

import re
from dataclasses import dataclass, field
from pathlib import Path

from jetlib.course.banks import registry as bank
from jetlib.course.classroom.print_orders import order_from
from jetlib.course.classroom.session_sight import seen, shown
from jetlib.course.classroom.vote import question
from jetlib.course.pages.consoles import console
from jetlib.course.pages.contents import pages
from jetlib.course.store.checked_row import (
    among,
    files_as_they_are,
    known,
    listed,
    placed,
    read_as,
    rows,
    sound_files,
    whole,
    words,
)
from jetlib.errors import JetlibError
from jetlib.tables import DATA
from jetlib.tables.toml_file import read_toml
from jetlib.units import text
from jetlib.units.number_text import figures
from jetlib.units.refusal import cut

FOLDER = DATA / "session_plans"
#: Kinds of step that put nothing to the room, so that there is nothing to go wrong about.
_QUIET = ("cautions", "explain", "break", "assessment", "close")
KINDS = (*_QUIET, "vote", "console", "practice", "hidden fault", "live rig", "machine")
_STAY = ("cautions", "break", "assessment", "close")
_LATE = (3, 5, 10, 15, 20, 30)  # minutes behind, at which there is something to say
_WHOLE_NUMBERS = {"minutes": (1, 60), "seed": (0, 1_000_000)}  # of a step
CAUTION = (
    "High-pressure water injures and kills. It cuts through gloves and "
    "boots. A pinprick from it is a surgical emergency, even when it does not hurt: go to a hospital at once and "
    "say that it is a high-pressure water injection. Never feel along a hose for a leak. Never open a coupling "
    "under pressure. Never run a nozzle in the open. Numbers and pictures do not make a job safe. The machine's "
    "manual, local codes and a licensed operator come before anything said here."
)
AT_THE_MACHINE = (
    "Only where the machine's manual and local codes allow it, with a licensed operator at the controls and the room "
    "behind the line the operator draws. Otherwise leave it out and use the live rig on screen."
)


@dataclass(frozen=True)
class Sight:
    """Something the room sees change: `quantity` of the step's console, set as `before` and then as `after`.

    say: words with places for {before}, {after}, {times} and {change}. times: the least
    and the most factor it is promised to change by; a test holds the plan to it.
    """

    say: str
    quantity: str
    before: dict = field(default_factory=dict)
    after: dict = field(default_factory=dict)
    times: tuple[float, float] = ()


@dataclass(frozen=True)
class Step:
    """One step. kind: one of KINDS. vote: id of a question of the banks, with its seed; practice: ids of exercises.

    console and set: what to put on screen. wrong: wrong ideas beside those the bank knows. if_wrong, if_split,
    if_right: what to do then.
    """

    title: str
    minutes: int
    kind: str
    page: str = ""
    do: str = ""
    console: str = ""
    set: dict = field(default_factory=dict)
    sees: tuple = ()
    ask: str = ""
    vote: str = ""
    seed: int = 1
    practice: tuple[str, ...] = ()
    wrong: tuple[str, ...] = ()
    if_wrong: str = ""
    if_split: str = ""
    if_right: str = ""

    @property
    def words(self):
        """What to do, with the cautions where the step needs them."""
        read_out = f"{CAUTION} Read this out and leave it on screen."
        before = {"cautions": read_out, "machine": AT_THE_MACHINE}.get(self.kind, "")
        return "\n\n".join(part for part in (before, self.do) if part)

    def asked(self, system):
        """The question to the room."""
        return question(self.vote, self.seed).ask(system) if self.vote else self.ask

    def answer(self, system):
        """The right answer of a vote, in words; "" where there is no vote."""
        if not self.vote:
            return ""
        found = question(self.vote, self.seed)
        return f"{found.right + 1}: {found.options(system)[found.right]}"

    def settings(self, system):
        """(label, words) of what to set on the console."""
        return shown(self.console, self.set, system) if self.console else ()

    def sights(self, system):
        """What the room will see, sentences with numbers worked out now."""
        return tuple(_sight_words(self, sight, system) for sight in self.sees)

    def wrong_ideas(self, system):
        """Wrong ideas to expect, a tuple of texts: those of the vote with the mistakes behind them, and others."""
        found = []
        if self.vote:
            asked = question(self.vote, self.seed)
            for at, (words, idea) in enumerate(zip(asked.options(system), asked.ideas, strict=True)):
                if idea is not None:
                    found.append(f"{at + 1}, {words}: {idea.name}")
                elif at != asked.right and not asked.values:
                    found.append(f"{at + 1}: {words}")
        return (*found, *self.wrong)


@dataclass(frozen=True)
class Plan:
    """A session: id, title, minutes, for whom, what they can do afterwards, what to have ready, the Orders to print."""

    id: str
    title: str
    minutes: int
    for_whom: str
    aims: tuple
    steps: tuple
    ready: tuple = ()
    prints: tuple = ()

    @property
    def lesson(self):
        """Number of the first lesson it takes the room to, so that plans stand in the order of the course."""
        found = [step.page[:2] for step in self.steps if step.page[:2].isdigit() and step.page[:2] != "00"]
        return found[0] if found else ""

    @property
    def begins(self):
        """Minute at which each step begins, a tuple."""
        return tuple(sum(step.minutes for step in self.steps[:at]) for at in range(len(self.steps)))

    def left_out(self, at, late):
        """Place of the step to leave out after the one at `at`, when it is `late` minutes late; None if there is none.

        The shortest that is long enough, or else the longest. Cautions, breaks, assessment and close stay.
        """
        able = [number for number in range(at + 1, len(self.steps)) if self.steps[number].kind not in _STAY]
        enough = [number for number in able if self.steps[number].minutes >= late]
        length = {number: self.steps[number].minutes for number in able}
        return min(enough, key=length.get) if enough else max(able, key=length.get, default=None)

    def late_words(self, at):
        """{minutes late: what to do then} while the step at `at` is shown."""
        found = {}
        for late in _LATE:
            number, then = self.left_out(at, late), "no step can be left out; shorten the rest."
            if number is not None:
                step = self.steps[number]
                then = f"leave out step {number + 1}, {step.title} ({step.minutes} min)."
            found[late] = f"{late} minutes behind: {then}"
        return found


def sight_values(step, sight):
    """(before, after) in SI of what a Sight of a Step shows; after is None where nothing is changed."""
    before = seen(step.console, {**step.set, **sight.before})[sight.quantity]
    after = seen(step.console, {**step.set, **sight.before, **sight.after})[sight.quantity] if sight.after else None
    return before, after


def _sight_words(step, sight, system):
    kind = console(step.console).shows[sight.quantity]
    before, after = sight_values(step, sight)
    words = {"before": text(before, kind, system)}
    if after is not None:
        words["after"] = text(after, kind, system)
        if before:
            words |= {"times": figures(after / before, 2), "change": f"{figures(100 * abs(after / before - 1), 2)} %"}
    return sight.say.format_map(words)


# --- the clock --------------------------------------------------------------------------------------

_CLOCK = re.compile(r"([01]?[0-9]|2[0-3])[:.h]?([0-5][0-9])")


def minute_of_day(typed):
    """Minutes after midnight of a typed time such as "9:00", "13.30" or "0900". Raises JetlibError."""
    found = _CLOCK.fullmatch(typed.strip()) if isinstance(typed, str) else None
    if not found:
        raise JetlibError(f'{cut(typed)} is no time of day; write one such as "9:00"')
    return 60 * int(found[1]) + int(found[2])


def clock(minute):
    """A minute of the day as text; past midnight it begins anew."""
    return f"{minute // 60 % 24}:{minute % 60:02d}"


# --- reading ----------------------------------------------------------------------------------------


def plans(folder=FOLDER):
    """Every sound plan of data/session_plans/ by id, shortest first."""
    found = sorted(_found(folder)[0].values(), key=lambda plan: (plan.minutes, plan.lesson, plan.title))
    return {plan.id: plan for plan in found}


def refused_plans(folder=FOLDER):
    """What to mend in the files there that are left out: a sentence for each, a tuple."""
    return _found(folder)[1]


def _found(folder):
    """Plans may name a trainer's own exercises: where those have changed, they are read anew."""
    return sound_files(folder, read_plan, state=files_as_they_are(bank.FOLDER, "*.toml"))


def read_plan(path):
    """The Plan in a file. Raises JetlibError that says which file, step and field to mend."""
    path = Path(path)
    return plan_from(read_toml(path, what="session plan", like="minutes = 20"), path.name)


def plan_from(data, name):
    """The Plan in a dict as a TOML file gives it, checked whole. name: of the file."""
    known(data, {"title", "minutes", "for_whom", "aims", "ready", "prints", "step"}, name)
    found = rows(data, "step", name)
    if not found:
        raise JetlibError(f"{name} has no steps; write [[step]]")
    steps = tuple(_step(row, f"{name}, step {number}") for number, row in enumerate(found, start=1))
    prints = []
    for at, typed in enumerate(listed(data, "prints", name), start=1):
        with placed(f"{name}, prints {at}"):
            prints.append(order_from(typed))
    plan = Plan(
        name.removesuffix(".toml"), words(data, "title", name, needed=True), whole(data, "minutes", name, 600),
        words(data, "for_whom", name, needed=True), listed(data, "aims", name), steps, listed(data, "ready", name),
        tuple(prints),
    )  # fmt: skip
    total = sum(step.minutes for step in steps)
    if total != plan.minutes:
        raise JetlibError(f"{name}: its steps add up to {total} minutes; write minutes = {total}, or change a step")
    if steps[0].kind != "cautions":
        raise JetlibError(f'{name} does not begin with the cautions; write a first step of kind = "cautions"')
    return plan


def _step(row, where):
    sees = [read_as(Sight, each, f"{where}, sees {at}") for at, each in enumerate(rows(row, "sees", where), start=1)]
    step = read_as(Step, row, where, whole_numbers=_WHOLE_NUMBERS, sees=tuple(sees))
    among(step.kind, KINDS, f"{where}: kind is")
    _check_names(step, where)
    if step.kind in _QUIET:
        return step
    if not (step.ask or step.vote):
        raise JetlibError(f"{where} asks the room nothing; write ask = or vote =")
    if not step.wrong_ideas("US"):
        raise JetlibError(f"{where} names no wrong idea to expect; write wrong = [...]")
    missing = [name for name in ("if_wrong", "if_split", "if_right") if not getattr(step, name)]
    if missing:
        raise JetlibError(f"{where} does not say what to do; write {', '.join(missing)}")
    return step


def _check_names(step, where):
    """What a step names must exist; what it promises must be worked out."""
    if step.page and step.page not in {each.stem for each in pages()}:
        raise JetlibError(f"{where}, page: there is no page {cut(step.page)}; write the stem of one, such as 05_bypass")
    with placed(f"{where}, vote"):
        if step.vote:
            question(step.vote, step.seed)
    for name in step.practice:
        with placed(f"{where}, practice"):
            bank.exercise(name)
    for held, does in ((step.set, "sets"), (step.sees, "shows")):
        if held and not step.console:
            raise JetlibError(f"{where} {does} something on no console; write console =")
    if step.console:
        with placed(f"{where}, console"):
            page = console(step.console).page
            if page != step.page:
                raise JetlibError(f'{step.console} is on another page; write page = "{page}"')
        with placed(f"{where}, set"):
            step.settings("US")
    for at, sight in enumerate(step.sees, start=1):
        with placed(f"{where}, sees {at}"):
            _check_sight(step, sight)


def _check_sight(step, sight):
    if sight.quantity not in console(step.console).shows:
        known_here = ", ".join(console(step.console).shows) or "none: leave sees out"
        raise JetlibError(f"{step.console} shows no {cut(sight.quantity)}; write one of {known_here}")
    if bool(sight.after) != bool(sight.times):
        raise JetlibError("a change is promised by after = and times = [least, most], both or none")
    places = "{before}, {after}, {times}, {change}" if sight.after else "{before}"
    if any(brace in re.sub(r"\{(before|after|times|change)\}", "", sight.say) for brace in "{}"):
        raise JetlibError(f"say is {cut(sight.say)}; the places in it are {places}")
    try:
        _sight_words(step, sight, "US")
    except KeyError as problem:
        raise JetlibError(f"say has no {cut(problem.args[0])} to show; the places in it are {places}") from None
    before, after = sight_values(step, sight)
    if after is not None and not sight.times[0] * before <= after <= sight.times[1] * before:
        ratio = f"{after / before:.3g} times" if before else "more than"
        becomes = f"with these settings {sight.quantity} becomes {ratio} what it was"
        raise JetlibError(f"times is {list(sight.times)}, and {becomes}; change times, or the settings")
