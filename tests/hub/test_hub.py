"""A room of twelve, really served: JupyterHub on loopback, an account for each learner, kernels that run the lessons.

It makes accounts on this machine and takes a few minutes of both processors, so it only runs when asked for.
"""

import json
import os
import re
import subprocess
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

pytest.importorskip("pwd", reason="a room is served from Linux")
sys.path.insert(0, str(Path(__file__).parent))
import pwd

from accounts import end_processes
from learner import Learner
from measure import hub_use, seat_use, table
from served import SEATS

from jetlib.course.classroom import seat_votes
from jetlib.course.classroom.class_progress import read_class
from jetlib.units import SYSTEMS

ROOT = Path(__file__).parents[2]
LESSONS = ("lessons/02_orifice_flow.ipynb", "lessons/05_bypass.ipynb")
EXERCISE, PREDICTION = "02-areas-add", "05-gauge-with-more-hose"

ANSWER = f"""
from jetlib.course.banks import registry as bank
from jetlib.course.progress.progress import current
variant = bank.exercise({EXERCISE!r}).variant(SEAT)
verdict = variant.check(variant.right_reply("metric"), "metric")
current().attempt({EXERCISE!r}, SEAT, verdict)
print(verdict.status, current().saved)
"""
LOCK = f"""
from jetlib.course.progress.progress import current
current().commit({PREDICTION!r}, 1e7 + SEAT)
print(current().saved)
"""
TOLD = f"""
from jetlib.course.progress.progress import current
current().refresh()
record = current().record
print([(each.exercise, each.seed) for each in record.attempts], [each.value for each in record.guesses({PREDICTION!r})])
"""


def study(learner, seat, gate, times):
    """Log in, get a server, run both lessons at once, answer and predict. Returns the kernels."""
    gate.wait(timeout=120)
    began = time.monotonic()
    assert learner.log_in()
    learner.start_server()
    times["server"] = time.monotonic() - began

    def run(notebook, then):
        kernel = learner.kernel(notebook)
        for cell in learner.cells(notebook):
            kernel.run(cell)
        return kernel, kernel.run(then.replace("SEAT", str(seat)))

    with ThreadPoolExecutor(2) as pool:
        runs = [pool.submit(run, notebook, then) for notebook, then in zip(LESSONS, (ANSWER, LOCK), strict=True)]
        (first, answered), (second, locked) = (each.result(timeout=300) for each in runs)
    times["lessons"] = time.monotonic() - began - times["server"]
    assert answered.split() == ["right", "True"]
    assert locked.split() == ["True"]
    return first, second


@pytest.fixture(scope="module")
def class_of_twelve(room, request):
    """Everybody at once; each learner with two kernels that have run their lessons."""
    learners = {seat: room.learner(seat) for seat in range(1, SEATS + 1)}
    times = {seat: {} for seat in learners}
    gate = threading.Barrier(SEATS)
    began = time.monotonic()
    with ThreadPoolExecutor(SEATS) as pool:
        runs = {seat: pool.submit(study, learners[seat], seat, gate, times[seat]) for seat in learners}
        kernels = {seat: run.result(timeout=400) for seat, run in runs.items()}
    whole = time.monotonic() - began
    report = table(times, whole, [learner.name for learner in learners.values()], hub_use(room.hub.pid))
    (ROOT / ".artifacts").mkdir(exist_ok=True)
    (ROOT / ".artifacts/room.md").write_text(report, "utf-8")
    if terminal := request.config.pluginmanager.getplugin("terminalreporter"):
        terminal.write_line("\n" + report)
    return learners, kernels


def test_twelve_at_once_each_with_progress_of_their_own(room, class_of_twelve):
    learners, kernels = class_of_twelve
    assert len(learners) == SEATS
    for seat, (first, second) in kernels.items():
        for kernel in (first, second):
            assert kernel.run(TOLD).strip() == f"[('{EXERCISE}', {seat})] [{1e7 + seat}]"
        kept = json.dumps(room.progress(seat))
        assert EXERCISE in kept and PREDICTION in kept


def test_every_seat_begins_with_numbers_of_its_own(class_of_twelve):
    _, kernels = class_of_twelve
    code = "from jetlib.screen.learning.practice import practice\nprint(practice('02-areas-add').variant.seed)"
    assert [int(kernels[seat][0].run(code)) for seat in (1, 2, 12)] == [1001, 2001, 12001]


def test_the_readmes_table_of_memory_holds(room, class_of_twelve):
    learners, _ = class_of_twelve
    names = [learner.name for learner in learners.values()]
    server = max(seat_use(name, kernels=False).memory for name in names)
    kernel = max(use.memory / use.processes for use in (seat_use(name, kernels=True) for name in names))
    hub, system = hub_use(room.hub.pid).memory, 1000  # megabytes
    rows = re.findall(r"^\| (\d+) \| (\d+) GB \| (\d+) GB \| \d+ \|$", (ROOT / "README.md").read_text("utf-8"), re.M)
    assert [int(row[0]) for row in rows] == [6, 12, 30]
    for people, *said in (map(int, row) for row in rows):
        for pages, gigabytes in zip((4, 12), said, strict=True):
            need = (people * (server + pages * kernel) + hub + system) / 1000
            assert 0.6 * gigabytes < need <= 1.02 * gigabytes, (people, pages, need)


def own_page(learner):
    """Path of a page that the learner may change: a copy, where the course's own pages stay as they are."""
    copied = learner.ask("jetlib/copy/02_orifice_flow", "POST")
    return copied.json()["path"] if copied.ok else LESSONS[0]


def test_what_a_learner_writes_is_saved_and_is_the_learners_alone(class_of_twelve):
    learners, _ = class_of_twelve
    path = f"api/contents/{own_page(learners[1])}"
    page = learners[1].ask(path).json()
    page["content"]["cells"][0]["source"] = "a note of my own"
    assert learners[1].ask(path, "PUT", json=page).ok
    assert learners[1].ask(path).json()["content"]["cells"][0]["source"] == "a note of my own"
    for other in (path, f"api/contents/{LESSONS[0]}"):
        assert "a note of my own" not in learners[2].ask(other).text


TRY_TO_READ = """
import os, pathlib, subprocess
for path in PATHS:
    try:
        found = os.listdir(path) if os.path.isdir(path) else open(path, 'rb').read(9)
        print('READ', path, found)
    except PermissionError:
        print('refused')
"""


def test_nobody_reads_anothers_files(room, class_of_twelve):
    learners, kernels = class_of_twelve
    home = pwd.getpwnam(learners[2].name).pw_dir
    runtime = Path(home, ".local/share/jupyter/runtime")
    server = next(int(path.stem.split("-")[1]) for path in runtime.glob("jpserver-*.json"))
    paths = [
        home,
        f"{home}/lessons/02_orifice_flow.ipynb",
        f"{home}/.local/share/jetlib/progress.json",
        *map(str, runtime.glob("kernel-*")),
        f"/proc/{server}/environ",
        f"{room.folder}/private",
        f"{room.folder}/private/slips.txt",
        f"{room.folder}/private/hub.sqlite",
        "/etc/shadow",
    ]
    assert len(paths) >= 18, "two kernels with five sockets each"
    assert all(os.path.lexists(path) for path in paths)
    said = kernels[1][0].run(TRY_TO_READ.replace("PATHS", repr(paths))).split()
    assert said == ["refused"] * len(paths)
    # The same by its owner, to see that the attempt is one.
    assert "READ" in kernels[2][0].run(TRY_TO_READ.replace("PATHS", repr(paths[:3])))


def test_seats_vote_and_nobody_reads_or_changes_anothers_vote(room, class_of_twelve):
    learners, kernels = class_of_twelve
    votes = room.folder / "votes"
    words = dict.fromkeys(SYSTEMS, "More hose: what does the gauge do?")
    seat_votes.put_up(votes, "a question", words, {key: ["It rises.", "It falls."] for key in SYSTEMS})
    for seat, choice in ((1, 0), (2, 1)):
        assert learners[seat].ask("jetlib/vote").json()["asked"]["ask"] == words
        said = learners[seat].ask("jetlib/vote", "PUT", json={"key": "a question", "choice": choice})
        assert said.json()["choice"] == choice
    assert learners[1].ask("jetlib/vote", "PUT", json={"key": "another", "choice": 0}).status_code == 400
    assert seat_votes.tally(votes, seat_votes.asked_of_seats(votes)) == (1, 1)
    theirs, mine = votes / learners[2].name, votes / learners[1].name
    said = kernels[1][0].run(
        TRY_TO_READ.replace("PATHS", repr([str(theirs), f"{theirs}/vote.json", f"{mine}/vote.json"]))
    )
    assert said.split()[:3] == ["refused", "refused", "READ"]
    write = (
        f"import os; print([os.access(place, os.W_OK) for place in {[str(votes), f'{votes}/asked', str(theirs)]!r}])"
    )
    assert kernels[1][0].run(write).strip() == str([False] * 3)
    seat_votes.take_down(votes)
    assert learners[1].ask("jetlib/vote").json() == {"asked": None, "choice": None}


def test_no_kernel_speaks_where_neighbours_can_listen(class_of_twelve):
    learners, _ = class_of_twelve
    for learner in learners.values():
        for path in Path(pwd.getpwnam(learner.name).pw_dir, ".local/share/jupyter/runtime").glob("kernel-*.json"):
            assert json.loads(path.read_text())["transport"] == "ipc"


def test_what_is_shared_cannot_be_changed(room, class_of_twelve):
    _, kernels = class_of_twelve
    code = f"""
import jetlib, os
places = [jetlib.__file__, {str(room.folder / "data")!r}, {str(room.folder / "lessons/02_orifice_flow.ipynb")!r},
    {str(room.folder / ".venv/etc/jupyter/jupyter_server_config.py")!r}, {str(room.folder / "tests/hub/seat.py")!r},
    {str(room.folder / "proxy")!r}, {str(room.folder)!r}]
print([os.access(place, os.R_OK) for place in places], [os.access(place, os.W_OK) for place in places])
"""
    assert kernels[1][0].run(code).strip() == f"{[True] * 7} {[False] * 7}"


def test_nobody_reaches_anothers_server(room, class_of_twelve):
    learners, kernels = class_of_twelve
    mine, other = learners[1], learners[2]
    # By the browser's own cookies.
    for path in ("api/status", "api/contents/lessons", "api/kernels", f"api/contents/{LESSONS[0]}"):
        assert mine.ask(path).ok
        assert mine.ask(path, server=other.server, allow_redirects=False).status_code in (302, 403, 404)
    for answer in (mine.session.get(f"{other.server}/lab"), mine.session.get(f"{room.url}/hub/user/{other.name}/lab")):
        assert answer.status_code in (403, 404)
        assert "jupyter-config-data" not in answer.text
    # By the token of one's own server, from one's own kernel, through the proxy and straight at the server's port.
    pid = next(
        int(path.stem.split("-")[1])
        for path in Path(f"/home/{other.name}/.local/share/jupyter/runtime").glob("jpserver-*.json")
    )
    info = json.loads(Path(f"/home/{other.name}/.local/share/jupyter/runtime/jpserver-{pid}.json").read_text())
    code = f"""
import os, urllib.request, urllib.error
token = os.environ['JUPYTERHUB_API_TOKEN']
opener = urllib.request.build_opener(urllib.request.ProxyHandler({{}}))
def status(url):
    asked = urllib.request.Request(url, headers={{'Authorization': 'token ' + token}})
    try:
        return opener.open(asked).status
    except urllib.error.HTTPError as error:
        return error.code
print(status('{mine.server}/api/kernels'), status('{room.url}/hub/api/user'))
print(status('{other.server}/api/kernels'), status('http://127.0.0.1:{info["port"]}/user/{other.name}/api/kernels'),
    status('{room.url}/hub/api/users/{other.name}'), status('{room.url}/hub/api/users'),
    status('http://127.0.0.1:{room.port + 1}/api/routes'))
"""
    own, foreign = (line.split() for line in kernels[1][0].run(code).strip().splitlines())
    assert own[1] == "200", "the token is a good one"
    assert all(status in ("403", "404") for status in foreign), foreign


def test_nobody_is_admin(room, class_of_twelve):
    learners, _ = class_of_twelve
    for path in ("hub/admin", "hub/api/users", "hub/api/proxy"):
        assert learners[1].session.get(f"{room.url}/{path}", timeout=30).status_code == 403


def lets_in(url, name, password):
    learner = Learner(url, name, password)
    try:
        return learner.log_in()
    finally:
        learner.close()


def test_only_the_slip_opens_the_door(room):
    # An account of the machine's that is no seat, with its right password.
    name = f"x{room.name}99"
    tries = {f"{room.name}01": "wrong-wrong-wrong", "root": "", name: "good-good-good"}
    subprocess.run(["useradd", "--no-create-home", name], check=True)
    try:
        subprocess.run(["chpasswd"], input=f"{name}:good-good-good\n", encoding="utf-8", check=True)
        with ThreadPoolExecutor(3) as pool:  # the hub takes its time over a wrong password
            assert not any(pool.map(lambda each: lets_in(room.url, *each), tries.items()))
    finally:
        subprocess.run(["userdel", name], check=True)


def test_one_learner_cannot_take_all_memory(class_of_twelve):
    _, kernels = class_of_twelve
    code = "try:\n    bytearray(3 * 2**30)\nexcept MemoryError:\n    print('no more')"
    assert kernels[3][0].run(code).strip() == "no more"
    assert kernels[3][0].run("print(1 + 1)").strip() == "2"


STEADY = f"""
from jetlib.course.banks import registry as bank
from jetlib.course.progress.progress import current
variant = bank.exercise({EXERCISE!r}).variant(5)
for number in range(1000, 3000):
    current().attempt({EXERCISE!r}, number, variant.check(variant.right_reply("metric"), "metric"))
    assert current().saved
    print(number, flush=True)
"""


def test_a_killed_server_loses_no_progress(room, class_of_twelve):
    learners, kernels = class_of_twelve
    learner, kernel = learners[5], kernels[5][0]
    said, told = "", 0
    for message in kernel.messages(kernel.start(STEADY)):
        if message["msg_type"] == "stream":
            said += message["content"]["text"]
            told = max(map(int, said.rpartition("\n")[0].split()), default=0)
        if told >= 1020:
            break
    # Server and kernels at one blow, in the middle of the work.
    end_processes(pwd.getpwnam(learner.name).pw_uid)
    assert seat_use(learner.name).processes == 0
    until = time.monotonic() + 60
    while learner.session.get(f"{learner.server}/api/status", timeout=30).status_code == 200:
        assert time.monotonic() < until
    learner.start_server()
    again = learner.kernel(LESSONS[0])
    count = again.run("from jetlib.course.progress.progress import current\nprint(len(current().record.attempts))")
    assert int(count) >= 1 + (told - 1000 + 1), "every attempt that was said to be saved is there"
    code = f"print([each.value for each in current().record.guesses({PREDICTION!r})], current().take_notices())"
    assert again.run(code).strip() == f"[{1e7 + 5}] ()"
    for cell in learner.cells(LESSONS[0]):
        again.run(cell)
    # Nobody else noticed.
    assert kernels[6][0].run("print(6)").strip() == "6"


def test_the_trainer_collects_everybodys_progress(room, class_of_twelve, tmp_path):
    room.script("collect", str(tmp_path / "class"))
    whole = read_class(tmp_path / "class")
    assert whole.skipped == ()
    assert [member.who for member in whole.members] == [f"{room.name}{seat:02}" for seat in range(1, SEATS + 1)]
    for seat, member in enumerate(whole.members, 1):
        assert [guess.value for guess in member.record.guesses(PREDICTION)] == [1e7 + seat]
