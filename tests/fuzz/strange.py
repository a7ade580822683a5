"""Strange inputs: fixed ones that have broken programs of this kind, and strategies for many more."""

import json
import tempfile

from hypothesis import strategies as st

from jetlib.course.classroom.hidden_fault.scores import ScoreBoard
from jetlib.course.classroom.session_plan import FOLDER as PLANS
from jetlib.course.classroom.vote_file import VoteFile, begun
from jetlib.course.progress.record import Attempt, Record, to_bytes
from jetlib.rig.parts.rig_file import demo_rigs
from jetlib.rig.rules.moves import CHANGES
from jetlib.rig.rules.quantities import QUANTITIES, STATES
from jetlib.units.kinds import KINDS

SIZE = 10_000

#: Text that would act, were it ever evaluated, formatted, expanded or taken for a path.
ACTS = (
    "__import__('os').system('touch owned')",
    "().__class__.__base__.__subclasses__()",
    "{0.__class__.__init__.__globals__}",
    "%(os)s %n %s %x",
    "$(touch owned)",
    "`touch owned`",
    "; touch owned",
    "${HOME}",
    "../../owned",
    "/etc/passwd",
    "~/owned",
    "file:///etc/passwd",
    "<script>alert(1)</script>",
    "!!python/object/apply:os.system ['touch owned']",
    "cos\nsystem\n(S'touch owned'\ntR.",
    'exec(\'open("owned", "w")\')',
    "lambda: 0",
    "1 in if True else 2",
)

#: 10 kB each, made to send a careless reader round in circles.
LONG = tuple(
    (piece * SIZE)[:SIZE]
    for piece in (
        "9", "9 ", "1/", "1-", "1e9", "0.", ".", ",", "1,000,", "(", "((1", ")", "[", "{", '"', "'", "\\", "#", "-",
        "--", "a", "a.", "a*", "m*", "m^2*", "m/s ", "in ", "per ", "sq ", "²", "⁻", "½", "ﷺ", "\u0301", "\u202e",
        "𝟗", " ", "\t", "\n", "\0", "sqrt(", "min(", "gauge ", "gauge + ", "1 = ", "^2", "at idle ", "with ",
        "5 ft 6 in ", "true", "a = 1\n", "[a]\n", "[[hose]]\n", "a.b = ", "[[", '{"a":', "[[[[", '"""', "1_0", "0x",
        "nan ", "inf,", "∞", "%",
    )
)  # fmt: skip

PIECES = (
    *"0123456789.,+-*/^()=<>[]{}#%'\"°²³½⅜µ×÷√ \t\n",
    "1e", "e9", "1/2", "3/8", "-6", "#60", "1:60", "nan", "inf", "gpm", "psi", "bar", "in", "inch", "ft", "mm", "degF",
    "°C", "rpm", "hp", "kW", "L/min", "m3/h", "Mpa", "lb", "per", "square", "of water", "drill", "no.", "dash", "pint",
    "delta_degC", "dB", "pH", "meter**meter", "sqrt", "min", "max", "with", "at", "and", "the", "= 0.2 *",
    *QUANTITIES, *STATES, *CHANGES, *(known.wants for known in KINDS.values()), *ACTS,
)  # fmt: skip

typed = st.one_of(
    st.lists(st.sampled_from(PIECES), max_size=20).map("".join),
    st.lists(st.sampled_from(PIECES), max_size=20).map(" ".join),
    st.text(max_size=80),
)

rules = st.one_of(
    typed,
    st.tuples(st.sampled_from(tuple(QUANTITIES)), typed).map(" = ".join),
    st.recursive(
        st.sampled_from((*QUANTITIES, "2", "0", "1e12", "3 in", "0.5 gpm")),
        lambda inner: st.one_of(
            st.tuples(inner, st.sampled_from("+-*/="), inner).map(" ".join),
            inner.map("({})".format),
            inner.map("sqrt({})".format),
            inner.map("({})^-6".format),
        ),
        max_leaves=8,
    ),
)

RIG_TEXTS = tuple(path.read_text(encoding="utf-8") for path in demo_rigs().values())
RIG_WORDS = tuple({word for text in RIG_TEXTS for line in text.splitlines() for word in line.replace('"', " ").split()})
PLAN_TEXTS = tuple(path.read_text(encoding="utf-8") for path in sorted(PLANS.glob("*.toml")))
toml_values = st.one_of(
    st.sampled_from(("nan", "inf", "-0.0", "1e309", "0x" + "f" * 99, "true", "1979-05-27", "[]", "{}", "[[1]]", '""')),
    st.floats().map(repr),
    st.integers().map(str),
    st.one_of(typed, st.sampled_from(RIG_WORDS)).map(lambda text: json.dumps(text)),
)


@st.composite
def toml_files(draw, texts=RIG_TEXTS):
    """One of the texts with some of its lines changed, doubled, dropped or out of place; or no such file at all."""
    if draw(st.booleans()):
        return draw(st.one_of(st.binary(max_size=200), typed.map(lambda text: text.encode("utf-8", "surrogatepass"))))
    lines = draw(st.sampled_from(texts)).splitlines()
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(lines) - 1))
        do = draw(st.sampled_from(("drop", "double", "move", "value", "key", "junk")))
        key, equals, _ = lines[at].partition("=")
        if do == "drop" and len(lines) > 1:
            del lines[at]
        elif do == "double":
            lines.insert(at, lines[at])
        elif do == "move":
            lines.insert(draw(st.integers(0, len(lines) - 1)), lines.pop(at))
        elif do == "value" and equals:
            lines[at] = f"{key}= {draw(toml_values)}"
        elif do == "key":
            lines.insert(at, f"{draw(st.sampled_from(RIG_WORDS))} = {draw(toml_values)}")
        else:
            lines.insert(at, draw(typed))
    return "\n".join(lines).encode("utf-8", "surrogatepass")


def _votes():
    """A file of two votes, one of them answered."""
    with tempfile.TemporaryDirectory() as folder:
        file = VoteFile("monday", folder)
        for name in ("02-double-flow", "05-gauge-with-more-hose"):
            vote = begun(name, 1, "2030-01-01T00:00:00Z", people=12)
            vote = vote.counted((1, *vote.first[1:]))
            file.put(vote if name[:2] == "02" else vote.reveal("2030-01-01T00:05:00Z"))
        return file.path.read_bytes()


VOTES = _votes()


@st.composite
def vote_files(draw):
    """A file of votes with some cells put out of joint, a row or a heading changed; or no such file at all."""
    if draw(st.booleans()):
        return draw(st.one_of(st.binary(max_size=200), typed.map(lambda text: text.encode("utf-8", "surrogatepass"))))
    lines = [line.split(",") for line in VOTES.decode("utf-8").splitlines()]
    for _ in range(draw(st.integers(1, 4))):
        row = draw(st.sampled_from(lines))
        row[draw(st.integers(0, len(row) - 1))] = draw(st.one_of(typed, st.integers().map(str), st.floats().map(repr)))
    return "\r\n".join(map(",".join, lines)).encode("utf-8", "surrogatepass")


GOOD_RECORD = to_bytes(
    Record(tuple(Attempt("02-areas-add", n, "right", "", "2030-01-01T00:00:00Z", f"{n:012x}", n) for n in range(1, 4)))
)
plain = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=12), st.sampled_from(ACTS)),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(st.text(max_size=8), inner, max_size=4)),
    max_leaves=10,
)


@st.composite
def json_files(draw):
    """A progress, bench or drill file with some of its values put out of joint, cut short, or no such file at all."""
    kind = draw(st.sampled_from(("junk", "cut", "other", "record", "bench", "drills")))
    if kind == "junk":
        return draw(st.binary(max_size=200))
    if kind == "cut":
        at = draw(st.integers(0, len(GOOD_RECORD) - 1))
        return GOOD_RECORD[:at] + draw(st.binary(max_size=3)) + GOOD_RECORD[at + draw(st.integers(0, 3)) :]
    if kind == "other":
        return json.dumps(draw(plain)).encode()
    if kind == "bench":
        held = draw(st.one_of(plain, st.fixed_dictionaries({"rig": plain, "bench": plain})))
        return json.dumps({"schema": draw(st.sampled_from((1, 2, "1", True))), "held": held}).encode()
    if kind == "drills":
        board = {**ScoreBoard().held(), draw(st.sampled_from(("teams", "results", "more"))): draw(plain)}
        drill = draw(st.fixed_dictionaries({"rig": plain, "seed": plain, "steps": plain, "answers": plain}))
        return json.dumps({"schema": 1, "held": {"board": board, "drill": drill, "minutes": draw(plain)}}).encode()
    held = json.loads(GOOD_RECORD)
    event = draw(st.sampled_from(held["events"]))
    place = draw(st.sampled_from((held, event)))
    key = draw(st.sampled_from((*place, "extra", "__class__")))
    place[key] = draw(plain)
    return json.dumps(held).encode()
