"""Two classes, one after the other, at the same seats: what yesterday's learner kept is worth nothing today."""

import io
import json
import re
import sys
import time
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
pytest.importorskip("pwd", reason="a room is served from Linux")

import pwd

from measure import seat_use
from served import SEATS

ROOT = Path(__file__).parents[2]

# What somebody leaves behind who wants to read along tomorrow.
LEFT = """
import os, pathlib, subprocess, sys
home = pathlib.Path.home()
(home / "lessons/note.txt").write_text("yesterday")
startup = home / ".ipython/profile_default/startup"
startup.mkdir(parents=True, exist_ok=True)
(startup / "spy.py").write_text("open('/tmp/NAME-heard', 'w')")
for place in ("/tmp/NAME-file", "/dev/shm/NAME-file"):
    open(place, "w").close()
os.makedirs("/tmp/NAME-folder/deep/down")
stay = "import signal, time; signal.signal(signal.SIGTERM, signal.SIG_IGN); print(flush=True); time.sleep(600)"
spy = subprocess.Popen([sys.executable, "-c", stay], start_new_session=True, stdout=subprocess.PIPE)
spy.stdout.readline()
segment = subprocess.run(["ipcmk", "-M", "4096"], capture_output=True, text=True).stdout.split()[-1]
print(spy.pid, os.environ["JUPYTERHUB_API_TOKEN"], segment)
"""


def status(session, url, **options):
    return session.get(url, allow_redirects=False, timeout=30, **options).status_code


@pytest.fixture(scope="module")
def yesterday(room):
    """A learner with a server, a token and cookies, who leaves traps; then the class ends."""
    learner, neighbor = room.learner(1), room.learner(2)
    assert learner.log_in() and neighbor.log_in()
    learner.start_server()
    kernel = learner.kernel("lessons/02_orifice_flow.ipynb")
    pid, token, segment = kernel.run(LEFT.replace("NAME", room.name)).split()
    asked = f"{room.url}/hub/api/users/{learner.name}"
    form = {"X-XSRFToken": learner.xsrf("/hub/")}
    made = learner.session.post(f"{asked}/tokens", headers=form, json={"expires_in": 10**9}, timeout=30)
    assert status(learner.session, asked, headers={"Authorization": f"token {token}"}) == 200, "a good token"
    assert status(learner.session, f"{learner.server}/api/status") == 200
    assert status(learner.session, f"{room.url}/hub/home") == 200
    uid = pwd.getpwnam(learner.name).pw_uid
    room.stop()
    assert not any(seat_use(f"{room.name}{seat:02}").processes for seat in range(2, SEATS + 1)), "the hub ends its own"
    assert Path(f"/proc/{pid}").exists(), "what a learner began by stealth outlives the hub"
    return {
        "learner": learner, "neighbor": neighbor, "pid": int(pid), "token": token, "segment": int(segment),
        "made": made, "uid": uid, "words": room.passwords(),
        "seats": [f"{room.name}{number:02}" for number in range(1, SEATS + 1)],
    }  # fmt: skip


@pytest.fixture(scope="module")
def today(room, yesterday):
    """Somebody else at the same seat, in a class of two."""
    assert "collect" in room.refused("seats", "2", "--name", room.name), "no class ends by a slip of the hand"
    room.script("seats", "2", "--name", room.name, "--yes")
    room.serve()
    learner = room.learner(1)
    assert learner.log_in()
    learner.start_server()
    return learner


def test_no_learner_makes_tokens(yesterday):
    assert yesterday["made"].status_code == 403


def test_yesterdays_cookies_tokens_and_passwords_open_nothing(room, yesterday, today):
    old, token = yesterday["learner"], {"Authorization": f"token {yesterday['token']}"}
    assert status(today.session, f"{today.server}/api/status") == 200
    for learner in (old, yesterday["neighbor"]):
        assert status(learner.session, f"{room.url}/hub/home") == 302, "back to the sign-in page"
        assert status(learner.session, f"{today.server}/api/status") in (302, 403)
        assert status(learner.session, f"{today.server}/api/contents/lessons") in (302, 403)
    for path in (f"hub/api/users/{today.name}", "hub/api/user", f"user/{today.name}/api/contents/lessons"):
        assert status(old.session, f"{room.url}/{path}", headers=token) in (302, 403)
    assert not type(old)(room.url, old.name, yesterday["words"][old.name]).log_in()


def test_yesterdays_programs_have_ended(yesterday, today):
    assert not Path(f"/proc/{yesterday['pid']}").exists()


def test_nothing_of_yesterday_is_left_at_the_seat(room, yesterday, today):
    account = pwd.getpwnam(today.name)
    assert account.pw_uid != yesterday["uid"], "what was overlooked is nobody's"
    code = "import os, pathlib\nprint(*sorted(os.listdir(pathlib.Path.home() / 'lessons')))"
    assert "note.txt" not in today.kernel("lessons/02_orifice_flow.ipynb").run(code).split()
    assert not list(Path(account.pw_dir).rglob("spy.py"))
    assert not list(Path(account.pw_dir).rglob("progress*.json"))
    assert not [path for place in ("/tmp", "/dev/shm") for path in Path(place).glob(f"{room.name}-*")]
    held = [line.split()[1] for line in Path("/proc/sysvipc/shm").read_text().splitlines()]
    assert str(yesterday["segment"]) not in held


def test_seats_that_are_not_needed_have_gone(room, yesterday, today):
    for name in yesterday["seats"][2:]:
        with pytest.raises(KeyError):
            pwd.getpwnam(name)
        assert not Path(f"/home/{name}").exists()
    assert not type(today)(room.url, name, yesterday["words"][name]).log_in()


def test_one_more_seat_disturbs_nobody(room, today):
    words = room.passwords()
    assert "being served" in room.refused("seats", "3", "--name", room.name, "--yes")
    assert "being served" in room.refused("remove", "--yes")
    room.script("seats", "3", "--name", room.name, "--more")
    assert status(today.session, f"{today.server}/api/status") == 200
    assert {name: room.passwords()[name] for name in words} == words
    late = room.learner(3)
    assert late.log_in()


def test_the_trainers_page_is_not_in_the_learners_list(room, today):
    listed = today.ask("api/contents/lessons").json()["content"]
    assert "00_start_here.ipynb" in {each["name"] for each in listed}
    assert not [each["name"] for each in listed if "classroom" in each["name"]]
    assert not list(room.folder.rglob("classroom.ipynb*")) + list(room.folder.rglob("session_plans"))
    for path in (Path(pwd.getpwnam(today.name).pw_dir) / "lessons").glob("*.ipynb"):
        assert "classroom.ipynb" not in path.read_text("utf-8"), path.name


def test_every_seat_has_the_courses_own_face(room, today, tmp_path):
    """What the start script sets up on a machine of one's own, file for file, and what reaches the browser of it."""
    sys.path.insert(0, str(ROOT / "lessons"))
    import start_settings

    (tmp_path / "jetlib").symlink_to(ROOT / "jetlib")
    start_settings.write_settings(root=tmp_path)
    written = [path for path in (tmp_path / ".venv").rglob("*") if path.is_file()]
    assert len(written) >= 4
    for path in written:
        own, here = path.read_text("utf-8"), room.folder / path.relative_to(tmp_path)
        own = own.replace(str(tmp_path), str(room.folder))
        assert own == here.read_text("utf-8") or here.read_text("utf-8").startswith(f"{own}\n"), path.name
    page = today.ask("lab/tree/lessons/00_start_here.ipynb").text
    config = json.loads(re.search(r'<script id="jupyter-config-data"[^>]*>(.*?)</script>', page, re.S)[1])
    there = {path.parent.name for path in (room.folder / ".venv/share/jupyter/labextensions").glob("*/package.json")}
    assert there and there <= {each["name"] for each in config["federated_extensions"]}
    shell = today.ask("lab/api/settings/@jupyterlab/application-extension:shell").json()
    assert shell["schema"]["properties"]["startMode"]["default"] == "single"


def test_a_phone_that_scans_the_slip_becomes_a_seat(room, today, chromium, tmp_path):
    zxingcpp = pytest.importorskip("zxingcpp")
    image = pytest.importorskip("PIL.Image")
    room.script("slips", str(tmp_path))
    paper = chromium.new_page(viewport={"width": 900, "height": 1200}, device_scale_factor=2)
    paper.goto((tmp_path / "slips.html").as_uri())
    (ROOT / ".artifacts").mkdir(exist_ok=True)
    paper.screenshot(path=ROOT / ".artifacts/room_slips.png")
    slips = paper.locator("section")
    assert slips.count() == 3
    name = f"{room.name}02"
    mine = next(slips.nth(at) for at in range(3) if name in slips.nth(at).inner_text())
    (scanned,) = zxingcpp.read_barcodes(image.open(io.BytesIO(mine.screenshot())))
    assert room.passwords()[name] in mine.inner_text()
    assert "Drain-line jetting" in mine.inner_text() and f"{room.url}/" in mine.inner_text()
    assert room.passwords()[name] not in scanned.text, "phones keep what they scan"

    phone = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = phone.new_page()
    page.goto(scanned.text)
    assert page.title() == "Drain-line jetting"
    assert page.locator("#username_input").input_value() == name
    assert page.evaluate("document.activeElement.id") == "password_input"
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.screenshot(path=ROOT / ".artifacts/room_sign_in.png")
    page.keyboard.type(room.passwords()[name])
    page.keyboard.press("Enter")
    page.wait_for_url("**/user/*/lab/**", timeout=90_000)
    page.locator(".jp-NotebookPanel:not(.lm-mod-hidden) .jp-RenderedHTMLCommon").first.wait_for(timeout=90_000)
    if (room.folder / ".venv/share/jupyter/labextensions/jetlib-page").exists():
        page.wait_for_function(
            "() => document.querySelector('.jp-NotebookPanel:not(.lm-mod-hidden) .jp-RenderedHTMLCommon')"
            ".getBoundingClientRect().width > 0.8 * innerWidth"
        )
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), "no scrolling sideways"
    page.screenshot(path=ROOT / ".artifacts/room_phone.png")
    phone.close()
    paper.close()


def test_the_slips_fit_their_paper(room, today, chromium, tmp_path):
    pypdf = pytest.importorskip("pypdf")
    words = {f"seat{number:02}": "mmmm-wwww-mmmm" for number in range(1, 31)}
    from collecting import slips_page

    made = slips_page(
        room.folder / ".venv/bin/python", room.folder, "https://course.training-yard.example:8000/", words
    )
    (tmp_path / "slips.html").write_bytes(made)
    for paper in ("A4", "Letter"):
        page = chromium.new_page()
        page.goto((tmp_path / "slips.html").as_uri())
        cut = page.evaluate(
            "[...document.querySelectorAll('section')].filter(each => each.scrollHeight > each.clientHeight + 1"
            " || each.scrollWidth > each.clientWidth + 1).length"
        )
        assert cut == 0, "a word is cut off"
        page.pdf(path=tmp_path / f"{paper}.pdf", format=paper)
        sheets = pypdf.PdfReader(tmp_path / f"{paper}.pdf").pages
        counts = [sheet.extract_text().count("mmmm-wwww-mmmm") for sheet in sheets]
        assert counts == [10, 10, 10], paper
        page.close()


LOCK = """
from jetlib.course.progress.progress import current
current().commit("05-gauge-with-more-hose", 1e7)
print(current().saved)
"""


def test_idle_servers_are_stopped_and_nothing_is_lost(room, today):
    assert today.kernel("lessons/05_bypass.ipynb").run(LOCK).strip() == "True"
    room.stop()
    room.serve("--idle", "0.1")
    learner = room.learner(1)
    assert learner.log_in()
    learner.start_server()
    assert seat_use(learner.name).processes > 0
    until = time.monotonic() + 60
    while seat_use(learner.name).processes:
        assert time.monotonic() < until, "still there a minute after it should have been stopped"
        time.sleep(0.5)
    assert "05-gauge-with-more-hose" in json.dumps(room.progress(1))
