"""Kinds of callout: what a customer says, the drain, what to ask, what may go wrong, and which acts end the day.

A kind is a TOML file in data/callouts/; acts that are unsafe on every job are in `common.toml` there. A file that
breaks a rule is left out, and what is said of it names the file, the place in it and the field to change. In words
{run} and {block} are lengths, and "[3 ft|1 m]" is the one or the other.
"""

from dataclasses import dataclass, fields
from pathlib import Path
from string import Formatter

from jetlib.course.callouts.wall import Setup, drain_from, plan_from
from jetlib.course.pages.contents import lessons
from jetlib.course.store.checked_row import (
    among,
    known,
    line_said,
    listed,
    pair,
    placed,
    read_as,
    rows,
    sound_files,
    words,
)
from jetlib.errors import JetlibError
from jetlib.rig.diagnosis.faults import FAULTS
from jetlib.rig.job.flushing import DEBRIS
from jetlib.rig.parts.site import CONDITIONS
from jetlib.tables import DATA
from jetlib.tables.toml_file import read_toml
from jetlib.units import both, si
from jetlib.units.refusal import cut

FOLDER = DATA / "callouts"
COMMON = "common.toml"
#: What may be decided on the phone and at the opening, with the words of it.
DECISIONS = {
    "go": "Go: do the job with this plan",
    "unsafe": "Do not go: it cannot be done safely",
    "needless": "Do not go: no jetting is needed",
}
#: m of hose in the pipe before the throttle is opened; common practice, no source
FIRST_MARK = 3.0
_IN_BRACES = ("run", "block")  # in the words of a customer
#: Acts that follow from what is done on any job, so that the common file must have them.
_NEEDED_ACTS = ("open", "out", "coupling", "rating", "valve")
#: When an act does harm: "always", with the pump "running", until the "pressure" is relieved; "by itself": not offered.
WHEN = ("always", "running", "pressure", "by itself")
_LISTS = {"run": "length", "fall": "slope", "fill": "flow"}  # of a drain: one of several is drawn
_PLAIN = {"altitude": "altitude", "air": "temperature", "water": "temperature", "outside": "length",
          "access": "pipe_bore", "least_flow": "flow"}  # fmt: skip


@dataclass(frozen=True)
class Question:
    """Something to ask: its key, what is asked and answered, minutes, whether it `matters`, and the lesson that says
    why. wrong: what may be answered in its place by somebody who is mistaken; "" for none."""

    key: str
    ask: str
    answer: str
    minutes: int = 1
    matters: bool = False
    wrong: str = ""
    lesson: str = "11"


@dataclass(frozen=True)
class Act:
    """Something that can be done and must not be: `when` it does harm, what `happens` then, and why; `else_words` is
    said where it does none."""

    key: str
    label: str
    happens: str
    why: str
    when: str = "always"
    else_words: str = ""
    lesson: str = "00"


@dataclass(frozen=True)
class Surprise:
    """What may be otherwise than planned: a `fault` of the rig (a name, with a range of sizes), from a share `at` of
    the run on; or something at a share `stop` of it that lets the nozzle by after `tries` (0: never); or a filling
    hose that gives the share `fill` of what was said. None of them: all goes well. words: what was true. signs: what
    is seen at the opening meanwhile."""

    key: str
    words: str
    lesson: str = "08"
    fault: str = ""
    size: tuple[float, float] = ()
    at: float = 0.0
    stop: float = 0.0
    tries: int = 0
    fill: float = 1.0
    signs: str = ""


@dataclass(frozen=True)
class Kind:
    """A kind of callout. right: one of DECISIONS; refusal: the Act that going is, where going is wrong; drain: its
    numbers, each a tuple of texts of which one is drawn; good: a plan that works, by the names of `deal.Setup`; dirty,
    clean: what comes back before and after the work; tips: (words, lesson), the most important first."""

    id: str
    title: str
    call: str
    right: str
    drain: dict
    questions: tuple
    surprises: tuple
    acts: tuple
    good: dict
    refusal: Act = None
    dirty: str = ""
    clean: str = ""
    tips: tuple = ()

    def act(self, key):
        """The Act of that key; JetlibError for none."""
        return keyed(self.acts, key, "act")


def keyed(held, key, what):
    """The one of `held` with that key. Raises JetlibError that lists them; what: the name of such a thing."""
    found = {each.key: each for each in held}
    return found[among(key, found, f"there is no {what}")]


# --- reading ----------------------------------------------------------------------------------------


def kinds(folder=FOLDER):
    """Every kind in the folder by id, in the order of their files, a dict."""
    return sound_files(folder, read_kind, left_out=COMMON)[0]


def refused_kinds(folder=FOLDER):
    """What to fix in the files that are left out: a sentence for each, a tuple."""
    return sound_files(folder, read_kind, left_out=COMMON)[1]


def kind(name):
    """The Kind of that id. Raises JetlibError that lists them."""
    return kinds()[among(name, kinds(), "there is no callout")]


def read_kind(path):
    """The Kind in a file. Raises JetlibError that says which file, place, field and line to change."""
    path = Path(path)
    shared = path.with_name(COMMON) if path.with_name(COMMON).is_file() else FOLDER / COMMON
    common = read_toml(shared, what="list of unsafe acts", like='key = "hand"')
    known(common, {"act"}, COMMON)
    data, acts = read_toml(path, what="callout", like='title = "…"'), _all(common, "act", Act, COMMON)
    try:
        return kind_from(data, path.name, acts)
    except JetlibError as problem:
        line = line_said(path.read_text("utf-8-sig").splitlines(), str(problem))
        raise JetlibError(f"{problem} (line {line})" if line else str(problem)) from None


def kind_from(data, name, common=()):
    """The Kind in a dict as a TOML file gives it, checked whole. name: of the file; common: acts of every kind."""
    known(data, {"title", "call", "right", "refusal", "drain", "question", "surprise", "act", "good", "dirty", "clean",
                 "tips"}, name)  # fmt: skip
    right = among(words(data, "right", name) or "go", DECISIONS, f"{name}: right is")
    acts, refusal = (*common, *_all(data, "act", Act, name)), None
    if right != "go":
        row = {**_table(data, "refusal", name), "key": "went", "label": "Go all the same"}
        refusal = _one(row, Act, f"{name}, refusal")
    found = Kind(
        name.removesuffix(".toml"), words(data, "title", name, needed=True), words(data, "call", name, needed=True),
        right, _drain(data, name), _all(data, "question", Question, name), _all(data, "surprise", Surprise, name), acts,
        _table(data, "good", name), refusal, words(data, "dirty", name, needed=True),
        words(data, "clean", name, needed=True), tuple(_tip(each, name) for each in listed(data, "tips", name)),
    )  # fmt: skip
    least_held = {"question": 4, "surprise": 2 if right == "go" else 1, "tips": 1}
    for held, (what, least) in zip((found.questions, found.surprises, found.tips), least_held.items(), strict=True):
        if len(held) < least:
            raise JetlibError(f"{name} has {len(held)} of {what}; write {least} or more, each headed [[{what}]]")
    for what, held in (("question", found.questions), ("surprise", found.surprises), ("act", found.acts)):
        keys = [each.key for each in held]
        twice = next((key for key in keys if keys.count(key) > 1), None)
        if twice is not None:
            raise JetlibError(f"{name}: two of {what} have the key {cut(twice)}; give each its own")
    _check_kind(found, name)
    return found


def _table(data, name, where):
    value = data.get(name, {})
    if not isinstance(value, dict) or not value:
        raise JetlibError(f"{where} has no {name}; write a table headed [{name}]")
    return value


def _all(data, name, made, where):
    return tuple(_one(row, made, f"{where}, {name} {at}") for at, row in enumerate(rows(data, name, where), start=1))


def _one(row, made, where):
    """A Question, Act or Surprise of a row, checked."""
    built = read_as(made, row, where, whole_numbers={"minutes": (0, 60), "tries": (0, 60)})
    if made is Act:
        among(built.when, WHEN, f"{where}: when is")
    if built.lesson not in {each.number for each in lessons()}:
        raise JetlibError(f"{where}: there is no lesson {cut(built.lesson)}; write its number, such as 08")
    if made is Surprise:
        _check_surprise(built, where)
    return built


def _check_surprise(built, where):
    if (bool(built.fault) + bool(built.stop) + (built.fill < 1.0)) > 1:
        raise JetlibError(f"{where} has more than one of fault, stop and fill; write a surprise for each")
    if not built.fault:
        return
    fault = FAULTS[among(built.fault, list(FAULTS)[1:], f"{where}: there is no fault")]
    if not built.size:
        raise JetlibError(f"{where} has a fault without a size; write size = [0.2, 0.3], shares")
    if not fault.low <= built.size[0] <= built.size[1] <= fault.high:
        runs = f"{built.fault} runs from {fault.low:g} to {fault.high:g}"
        raise JetlibError(f"{where}: size is {cut(list(built.size))}; {runs}")


def _tip(typed, where):
    """(words, lesson) of a tip such as "08: Read the gauge before you feed the hose."."""
    lesson, apart, said = typed.partition(": ")
    if not apart or lesson not in {each.number for each in lessons()}:
        raise JetlibError(f"{where}: a tip is {cut(typed)}; begin it with the number of a lesson, 08: …")
    return said, lesson


def _drain(data, name):
    """The table of a drain with every list as a tuple of texts, tried out."""
    row, where = _table(data, "drain", name), f"{name}, drain"
    known(row, {*_LISTS, *_PLAIN, "pipe", "bore", "material", "condition", "branches", "flooded", "bends", "block",
                "debris"}, where)  # fmt: skip
    made = {**row, "block": pair(row, "block", where)}
    for field in _LISTS:
        made[field] = tuple(row[field]) if isinstance(row.get(field), list) else (row.get(field),)
        if not made[field]:
            raise JetlibError(f'{where}: {field} is an empty list; write one text or more, {field} = ["…"]')
    if ("pipe" in row) == ("bore" in row):
        raise JetlibError(f"{where} has {'both' if 'pipe' in row else 'neither'} of pipe and bore; write one of them")
    bends = row.get("bends", [])
    if not isinstance(bends, list) or not all(isinstance(each, list) and len(each) in (2, 3) for each in bends):
        write = 'place, angle and, if known, radius: [["12 ft", "45 deg"]]'
        raise JetlibError(f"{where}: bends is {cut(bends)}; write {write}")
    if not made["block"] or not 0 < made["block"][0] <= made["block"][1] <= 1:
        raise JetlibError(f"{where}: block is {cut(row.get('block'))}; write two shares of the run, block = [0.5, 0.8]")
    words(row, "debris", where)
    among(row.get("debris"), DEBRIS, f"{where}: debris is")
    among(row.get("condition", "sound"), CONDITIONS, f"{where}: condition is")
    for field, kind_of in {**_LISTS, **_PLAIN}.items():
        for typed in made[field] if field in _LISTS else [row[field]] if field in row else []:
            if not isinstance(typed, str):
                raise JetlibError(f'{where}: {field} is {cut(typed)}; write texts with a unit, {field} = ["…"]')
            with placed(f"{where}, {field}"):
                si(typed, kind_of, field=field)
    for run in made["run"]:
        try:
            drain_from(made, run=run, fall=made["fall"][0])
        except (JetlibError, TypeError, ValueError, KeyError) as problem:
            raise JetlibError(f"{where}: {problem}") from None
    return made


# --- soundness ---


def _check_kind(kind, name):
    """Whether it can be played to its end: its words can be said, and its own plan does the work."""
    _can_be_said(kind.call, f"{name}: call")
    for at, each in enumerate(kind.questions, start=1):
        for field in ("answer", "wrong"):
            _can_be_said(getattr(each, field), f"{name}, question {at}: {field}")
    missing = next((key for key in _NEEDED_ACTS if key not in {act.key for act in kind.acts}), None)
    if missing is not None:
        raise JetlibError(f"common.toml has no act {missing!r}; write one with that key: every job can end so")
    known(kind.good, {each.name for each in fields(Setup)}, f"{name}, good")
    with placed(f"{name}, good"):
        setup = Setup(**kind.good)
    if kind.right == "go":
        _works(kind, setup, name)


def _can_be_said(words, where):
    try:
        parts = list(Formatter().parse(words))
    except ValueError:
        raise JetlibError(f"{where} has a brace without its partner; write {{run}} or {{block}}, or no brace") from None
    for _, field, spec, conversion in parts:
        if field is not None and (field not in _IN_BRACES or spec or conversion):
            raise JetlibError(f"{where} has {cut('{' + field + '}')}; only {{run}} and {{block}} can stand in braces")


def _works(kind, setup, name):
    """The plan of the kind, for its longest run: nothing against it, and it gets past the stoppage."""
    drain = kind.drain
    runs = sorted(float(si(each, "length")) for each in drain["run"])
    first, last = drain["block"][0] * runs[0], drain["block"][1] * runs[-1]
    if first < FIRST_MARK + 1.0:
        write = f"shares of the run that lie {both(FIRST_MARK + 1.0, 'length', 2)} or more into the shortest run"
        raise JetlibError(f"{name}, drain: block can lie {both(first, 'length', 2)} from the opening; write {write}")
    plan = plan_from(setup, drain, {"run": runs[-1], "fall": drain["fall"][0], "fill": drain["fill"][0]}, name="")
    if plan.no_go:
        raise JetlibError(f"{name}, good: this plan is a no-go, so nobody could do the job. {plan.no_go[0]}")
    far = float(plan.reach.distance)
    if far < min(last + 1.0, runs[-1]):
        raise JetlibError(
            f"{name}, good: the nozzle gets {both(far, 'length', 2)} in, and the stoppage can lie at "
            f"{both(last, 'length', 2)}; write a plan that gets past it, or another block"
        )
    if "least_flow" in drain and float(plan.point.nozzle_flow) < si(drain["least_flow"], "flow"):
        raise JetlibError(f"{name}, good: the plan gives less than least_flow; write a larger machine, or less flow")
    for at, each in enumerate(kind.surprises, start=1):
        if each.fault and not FAULTS[each.fault].fits(plan.rig):
            raise JetlibError(f"{name}, surprise {at}: the machine of good cannot have the fault {each.fault!r}")
        if each.stop and each.stop * runs[0] < FIRST_MARK:
            write = f"a share of the run of {FIRST_MARK / runs[0]:.2f} or more"
            raise JetlibError(f"{name}, surprise {at}: stop can lie before the first mark; write {write}")
