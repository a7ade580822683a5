"""The set-up: what it decides, what it writes and what it says. Nothing is installed here."""

import ast
import http.server
import importlib.util
import json
import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def load(path):
    spec = importlib.util.spec_from_file_location(path.stem, path)
    module = importlib.util.module_from_spec(spec)
    sys.modules[path.stem] = module
    spec.loader.exec_module(module)
    return module


start = load(ROOT / "lessons" / "start.py")
run = load(ROOT / "tests" / "run.py")
setup = sys.modules["start_environment"]
settings = sys.modules["start_settings"]


@pytest.fixture
def root(tmp_path):
    """A folder that looks like the course, in a place with an awkward name."""
    root = tmp_path / "yard's [course] é"
    (root / "jetlib").mkdir(parents=True)
    (root / "lessons").mkdir()
    (root / "tests").mkdir()
    (root / "requirements.txt").write_text("numpy\n-e ./jetlib\n")
    (root / "tests" / "requirements.txt").write_text("pytest\n")
    (root / "jetlib" / "pyproject.toml").write_text("[project]\n")
    for name in ("00_start_here", "02_orifice_flow", "03_hose_friction", "bench"):
        (root / "lessons" / f"{name}.ipynb").write_text("{}")
    return root


@pytest.fixture
def installs(root, monkeypatch):
    """Fakes in place of venv and pip; the list holds what they were asked to do."""
    done = []

    def make_venv(root):
        done.append("make")
        setup.venv_python(root).parent.mkdir(parents=True, exist_ok=True)
        setup.venv_python(root).touch()

    monkeypatch.setattr(setup, "make_venv", make_venv)
    monkeypatch.setattr(setup, "install", lambda requirements, root: done.append([path.name for path in requirements]))
    monkeypatch.setattr(setup, "python_works", lambda python: True)
    monkeypatch.setattr(setup, "space_problem", lambda free, size: None)
    return done


# --- old Pythons ---


@pytest.mark.parametrize("name", ["lessons/start.py", "tests/run.py"])
def test_old_python_can_read_the_doors(name):
    ast.parse((ROOT / name).read_text("utf-8"), feature_version=(3, 6))


@pytest.mark.parametrize(
    "name", ["lessons/start.py", "lessons/start_environment.py", "lessons/start_settings.py", "tests/run.py"]
)
def test_doors_need_only_the_standard_library(name):
    own = {"start", "start_environment", "start_settings", "msvcrt", "fcntl"}
    for node in ast.walk(ast.parse((ROOT / name).read_text("utf-8"))):
        names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        names += [node.module] if isinstance(node, ast.ImportFrom) else []
        for module in names:
            assert module.split(".")[0] in sys.stdlib_module_names | own


@pytest.mark.parametrize("version", [(3, 11, 0), (3, 12, 4), (3, 14, 0), (4, 0, 0)])
def test_new_python_will_do(version):
    assert start.version_problem(version) is None


@pytest.mark.parametrize("version", [(2, 7, 18), (3, 6, 15), (3, 10, 13)])
def test_old_python_is_told_what_to_do(version):
    text = start.version_problem(version, runs=lambda name: False, windows=False)
    assert "3.11 or newer" in text and f"{version[0]}.{version[1]}" in text
    assert text.endswith("python3 lessons/start.py")
    assert start.version_problem(version, windows=True).endswith(r"py lessons\start.py")
    found = start.version_problem(version, runs=lambda name: name == "python3.12", windows=False)
    assert found.endswith("python3.12 lessons/start.py")


# --- the place ---


def test_good_place(root):
    assert setup.place_problem(root) is None


def test_missing_parts_suggest_the_zip(tmp_path):
    assert "extract the whole zip" in setup.place_problem(tmp_path)


def test_colon_in_the_path(root):
    odd = root.parent / "a:b"
    root.rename(odd)
    assert "colon" in setup.place_problem(odd, windows=False)


def test_variable_in_the_path(root, monkeypatch):
    odd = root.parent / "cost $PRICE"
    root.rename(odd)
    monkeypatch.delenv("PRICE", raising=False)
    assert setup.place_problem(odd) is None
    monkeypatch.setenv("PRICE", "9")
    assert "variable" in setup.place_problem(odd)


def test_deep_folder_on_windows(root):
    deep = root / ("d" * 100)
    (deep / "jetlib").mkdir(parents=True)
    (deep / "requirements.txt").touch()
    (deep / "jetlib" / "pyproject.toml").touch()
    assert "shorter place" in setup.place_problem(deep, windows=True)
    assert setup.place_problem(deep, windows=False) is None


def test_venv_that_is_no_folder(root):
    (root / ".venv").touch()
    assert "Remove it" in setup.place_problem(root)


def test_folder_that_cannot_be_written(root, monkeypatch):
    monkeypatch.setattr(setup.os, "access", lambda path, mode: False)
    assert "cannot be written" in setup.place_problem(root)


def test_full_disk():
    assert setup.space_problem(5e9) is None
    assert setup.space_problem(1e9, setup.SIZES["course"]) is None
    assert "needed" in setup.space_problem(1e9, setup.SIZES["tests"])
    assert "300 MB free" in setup.space_problem(300e6)


@pytest.mark.parametrize(
    ("log", "meaning"),
    [
        ("ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device", "disk is full"),
        ("OSError: [WinError 112] There is not enough space on the disk", "disk is full"),
        ("Failed to establish a new connection: [Errno -3] Temporary failure in name resolution", "on the internet"),
        (
            "WARNING: Retrying after connection broken by 'NewConnectionError'\n"
            "ERROR: No matching distribution found for jupyterlab~=4.4",
            "on the internet",
        ),
        ("SSLError(SSLCertVerificationError(1, '[SSL: CERTIFICATE_VERIFY_FAILED]'", "date and time"),
        (
            "ERROR: Could not find a version that satisfies the requirement hatchling (from versions: none)\n"
            "ERROR: No matching distribution found for hatchling",
            "another network",
        ),
        (
            "ERROR: Could not find a version that satisfies the requirement numpy>=2.0 (from versions: 1.21.6)\n"
            "ERROR: No matching distribution found for numpy>=2.0",
            "64-bit Python",
        ),
        ("OSError: [WinError 206] The filename or extension is too long", "shorter place"),
        ("PermissionError: [WinError 5] Access is denied: 'C:\\\\x.pyd'", "Close other windows"),
        ("something never seen before\nand its last line", "and its last line"),
    ],
)
def test_failures_are_explained(log, meaning):
    assert meaning in setup.explanation(log)


# --- the stamp ---


def test_fingerprint_follows_what_matters(root):
    files = setup.course_requirements(root)
    first = setup.fingerprint(files, root, (3, 11, 4))
    assert setup.fingerprint(files, root, (3, 11, 9)) == first
    assert setup.fingerprint(files, root, (3, 12, 0)) != first
    (root / "requirements.txt").write_bytes(b"numpy\r\n-e ./jetlib\r\n")
    assert setup.fingerprint(files, root, (3, 11, 4)) == first
    (root / "jetlib" / "pyproject.toml").write_text("[project]\nname = 'jetlib'\n")
    second = setup.fingerprint(files, root, (3, 11, 4))
    assert second != first
    (root / "requirements.txt").write_text("numpy>2\n")
    assert setup.fingerprint(files, root, (3, 11, 4)) not in (first, second)
    assert setup.fingerprint(run.test_requirements(root), root) != setup.fingerprint(files, root)


def test_states(root):
    wanted = setup.fingerprint(setup.course_requirements(root), root)
    all_wanted = setup.fingerprint(run.test_requirements(root), root)

    def state(name="course", wanted=wanted, works=True):
        return setup.state(name, wanted, root, lambda python: works)

    assert state() == "make"
    setup.venv_python(root).parent.mkdir(parents=True)
    setup.venv_python(root).touch()
    assert state() == "make", "half-made: no stamp yet"
    setup.stamp_file("course", root).write_text('{"python": ')
    assert state() == "make", "half-written stamp"
    setup.stamp_file("course", root).write_text("[]")
    assert state() == "make"
    setup.write_stamp("course", wanted, root)
    assert state() == "nothing"
    assert state(works=False) == "make", "the Python it was made from is gone"
    assert state("tests", all_wanted) == "install"
    setup.write_stamp("tests", all_wanted, root)
    assert state("tests", all_wanted) == "nothing"
    assert state(wanted={**wanted, "requirements": "other"}) == "install"
    for key in ("python", "system", "folder"):
        assert state(wanted={**wanted, key: "other"}) == "make", key
    setup.venv_python(root).unlink()
    assert state() == "make"


def test_python_works_looks_for_the_packages(monkeypatch):
    monkeypatch.setattr(setup, "KEY_PACKAGES", ("json", "ast"))
    assert setup.python_works(sys.executable)
    monkeypatch.setattr(setup, "KEY_PACKAGES", ("json", "no_such_package_here"))
    assert not setup.python_works(sys.executable)
    assert not setup.python_works("/nowhere/python")


def test_second_start_installs_nothing(root, installs):
    setup.ensure(root=root)
    assert installs == ["make", ["requirements.txt"]]
    assert setup.ensure(root=root) == setup.venv_python(root)
    assert len(installs) == 2
    setup.ensure(root=root, redo=True)
    assert installs[2:] == ["make", ["requirements.txt"]]


def test_tests_add_to_the_same_environment(root, installs):
    setup.ensure(root=root)
    setup.ensure(run.test_requirements(root), "tests", root)
    assert installs[2:] == [["requirements.txt", "requirements.txt"]]
    setup.ensure(root=root)
    setup.ensure(run.test_requirements(root), "tests", root)
    assert len(installs) == 3


def test_changed_requirements_are_installed(root, installs):
    setup.ensure(root=root)
    (root / "requirements.txt").write_text("numpy>2\n")
    setup.ensure(root=root)
    assert installs[2:] == [["requirements.txt"]]


@pytest.mark.parametrize("failure", [KeyboardInterrupt, setup.SetupProblem, OSError])
@pytest.mark.parametrize("before", ["nothing there", "set up, then requirements changed"])
def test_interrupted_install_is_redone(root, installs, monkeypatch, failure, before):
    if before != "nothing there":
        setup.ensure(root=root)
        (root / "requirements.txt").write_text("numpy>2\n")

    def fail(requirements, root):
        raise failure("pip stopped")

    working = setup.install
    monkeypatch.setattr(setup, "install", fail)
    with pytest.raises(setup.SetupProblem if failure is OSError else failure):
        setup.ensure(root=root)
    monkeypatch.setattr(setup, "install", working)
    installs.clear()
    setup.ensure(root=root)
    assert installs == ["make", ["requirements.txt"]]
    setup.ensure(root=root)
    assert len(installs) == 2


def test_full_disk_stops_before_anything_is_made(root, installs, monkeypatch):
    monkeypatch.setattr(setup, "space_problem", lambda free, size: "too full")
    with pytest.raises(setup.SetupProblem, match="too full"):
        setup.ensure(root=root)
    assert installs == [] and not (root / ".venv").exists()


def test_python_without_ensurepip(root, monkeypatch):
    monkeypatch.setattr(setup.importlib.util, "find_spec", lambda name: None if name == "ensurepip" else object())
    with pytest.raises(setup.SetupProblem, match="apt install python3-venv"):
        setup.make_venv(root)


def test_two_starts_wait_for_each_other(tmp_path, capsys):
    file = tmp_path / "lock"
    file.write_text("x")
    with setup.alone(file, wait=1):
        assert "Another window" not in capsys.readouterr().out
        with setup.alone(file, wait=1):
            assert "Another window" in capsys.readouterr().out
    with setup.alone(file, wait=1):
        assert "Another window" not in capsys.readouterr().out


# --- progress ---


def test_pip_news_in_plain_words():
    seen = set()
    assert setup.pip_news("Collecting numpy<3,>=2.0 (from -r requirements.txt (line 3))\n", seen).endswith(
        "1 of about 110"
    )
    assert "2 of" in setup.pip_news("  Collecting pint\n", seen)
    assert "numpy 16.8 MB" in setup.pip_news("  Downloading numpy-2.4.6-cp311-win_amd64.whl (16.8 MB)\n", seen)
    assert setup.pip_news("Installing collected packages: a, b, c\n", seen) == "Installing 3 packages"
    assert "does not answer" in setup.pip_news("WARNING: Retrying (Retry(total=4)) after connection broken by\n", seen)
    assert setup.pip_news("  Preparing metadata\n", seen) is None


def test_run_logged_keeps_the_output(root, capsys):
    (root / ".venv").mkdir()
    log = root / ".venv" / "log.txt"
    command = [sys.executable, "-c", "import os; print('in', os.getcwd()); print('Collecting a'); raise SystemExit(3)"]
    code, output = setup.run_logged(command, root, log, begin="Fetching", end="Fetched")
    assert code == 3
    assert str(root) in output and output == log.read_text("utf-8")
    assert "Fetching: failed" in capsys.readouterr().out


# --- settings ---


def test_environment_is_cut_off_from_the_learners_own(root):
    own = {
        "PATH": "/usr/bin",
        "PYTHONPATH": "/theirs",
        "PYTHONHOME": "/theirs",
        "JUPYTER_TOKEN": "theirs",
        "JUPYTERLAB_DIR": "/theirs",
        "IPYTHONDIR": "/theirs",
        "MPLCONFIGDIR": "/theirs",
        "PIP_TARGET": "/theirs",
        "PIP_USER": "1",
    }
    kept = {"HTTPS_PROXY": "http://proxy", "PIP_CERT": "/cert.pem", "HOME": "/home/learner"}
    made = setup.environment(root, base={**own, **kept})
    assert "theirs" not in json.dumps(made)
    assert kept.items() <= made.items()
    folders = [value for name, value in made.items() if name.startswith(("JUPYTER", "IPYTHON", "MPL", "VIRTUAL"))]
    assert len(folders) == 9
    assert all(Path(value).is_relative_to(root / ".venv") for value in folders)
    assert made["PATH"].split(os.pathsep)[0] == str(setup.venv_python(root).parent)


class Config(dict):
    def __getattr__(self, name):
        return self.setdefault(name, Section())


class Section(dict):
    __setattr__ = dict.__setitem__


def read_config(text):
    config = Config()
    exec(compile(text, "config", "exec"), {"get_config": lambda: config})
    return config


@pytest.mark.parametrize("folder", ["/home/a/course", r"C:\Users\new\course", '/yard\'s "own" {course}'])
def test_server_config(folder):
    config = read_config(settings.server_config(folder, "03_hose_friction"))
    assert config["ServerApp"]["root_dir"] == folder
    assert config["LabApp"]["default_url"] == "/lab/tree/lessons/03_hose_friction.ipynb"
    assert config["LabApp"]["news_url"] is None
    assert config["LabApp"]["check_for_updates_class"] == "jupyterlab.NeverCheckForUpdate"
    assert config["LabApp"]["extension_manager"] == "readonly"


def test_jupyterlab_knows_these_settings():
    labapp = pytest.importorskip("jupyterlab.labapp")
    from jupyter_server.serverapp import ServerApp

    config = read_config(settings.server_config())
    for name, application in (("LabApp", labapp.LabApp), ("ServerApp", ServerApp)):
        for setting in config[name]:
            assert setting in application.class_trait_names(config=True), f"{name}.{setting}"
    schemas = Path(sys.prefix) / "share" / "jupyter" / "lab" / "schemas"
    for plugin, wanted in settings.lab_overrides().items():
        package, name = plugin.split(":")
        properties = json.loads((schemas / package / f"{name}.json").read_text("utf-8"))["properties"]
        for setting, value in wanted.items():
            allowed = properties[setting]
            choices = allowed.get("enum") or [choice["const"] for choice in allowed.get("oneOf", [])]
            assert value in (choices or [True, False]), f"{plugin} {setting}"


def test_settings_are_written_into_the_environment(root):
    paths = start.write_settings(root, "bench")
    assert all(path.is_relative_to(root / ".venv") for path in paths)
    texts = {path.name: path.read_text("utf-8") for path in paths}
    assert read_config(texts["jupyter_server_config.py"])["ServerApp"]["root_dir"] == str(root)
    assert json.loads(texts["overrides.json"]) == settings.lab_overrides()
    assert json.loads(texts["page_config.json"])["disabledExtensions"]["@jupyterlab/apputils-extension:announcements"]
    assert read_config(texts["ipython_kernel_config.py"])["IPKernelApp"]["log_level"] == "ERROR"


def test_notebooks_are_signed_once(root, monkeypatch):
    (root / ".venv").mkdir()
    asked = []

    def call(command, **options):
        asked.append(command)
        return subprocess.CompletedProcess(command, 0)

    monkeypatch.setattr(start.subprocess, "run", call)
    start.trust(root)
    start.trust(root)
    assert len(asked) == 1
    assert [Path(name).name for name in asked[0][3:]] == [path.name for path in start.course_notebooks(root)]
    (root / "lessons" / "bench.ipynb").write_text("{ }")
    start.trust(root)
    assert len(asked) == 2


# --- opening ---


@pytest.mark.parametrize(
    ("name", "page"),
    [
        ("00_start_here", "00_start_here"),
        ("03", "03_hose_friction"),
        ("bench", "bench"),
        ("bench.ipynb", "bench"),
        ("lessons/02_orifice_flow.ipynb", "02_orifice_flow"),
        (r"lessons\02_orifice_flow.ipynb", "02_orifice_flow"),
    ],
)
def test_find_page(root, name, page):
    assert start.find_page(name, root) == page


def test_find_page_names_the_choices(root):
    for name in ("0", "valves"):
        with pytest.raises(setup.SetupProblem, match="02_orifice_flow"):
            start.find_page(name, root)
    (root / "lessons" / "00_start_here.ipynb").unlink()
    with pytest.raises(setup.SetupProblem, match="start page is missing"):
        start.find_page("00_start_here", root)


class Answer(http.server.BaseHTTPRequestHandler):
    def do_GET(self):
        good = self.path == "/api/status" and self.headers["Authorization"] == "token secret"
        self.send_response(200 if good else 403)
        self.end_headers()
        self.wfile.write(b"{}")

    def log_message(self, *_):
        pass


def test_running_server_is_found_and_stale_ones_are_not(root):
    runtime = root / ".venv" / "share" / "jupyter" / "runtime"
    runtime.mkdir(parents=True)
    with http.server.HTTPServer(("127.0.0.1", 0), Answer) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        port = server.server_port
        info = {"url": f"http://127.0.0.1:{port}/", "token": "secret", "root_dir": str(root), "port": port}
        wrong = [
            {**info, "token": "old"},
            {**info, "root_dir": "/elsewhere"},
            {**info, "url": "http://127.0.0.1:9/"},
            {"url": info["url"]},
        ]
        for number, stale in enumerate(wrong):
            (runtime / f"jpserver-{number}.json").write_text(json.dumps(stale))
        (runtime / "jpserver-9.json").write_text("")
        assert start.running_server(root) is None
        (runtime / "jpserver-99.json").write_text(json.dumps(info))
        assert start.running_server(root) == info
        assert start.running_server(root, token="another") is None
        assert not start.port_is_free(port)
        server.shutdown()
    assert start.port_is_free(port)


def test_arguments(capsys):
    chosen = start.arguments([])
    assert (chosen.page, chosen.check, chosen.no_browser, chosen.port) == ("00_start_here", False, False, None)
    assert start.arguments(["03", "--port", "8899"]).port == 8899
    for wrong in (["--port", "80"], ["--port", "x"], ["--ip=0.0.0.0"], ["--prot", "8899"]):
        with pytest.raises(SystemExit):
            start.arguments(wrong)
    assert "8899" in capsys.readouterr().err


def test_main_says_what_went_wrong(monkeypatch, capsys):
    def fail(redo):
        raise start.SetupProblem("The disk is full.")

    monkeypatch.setattr(start, "ensure", fail)
    assert start.main(["--check"]) == 1
    assert "did not start.\nThe disk is full." in capsys.readouterr().out


# --- the test command ---


def test_run_everything_or_what_was_asked():
    names = [name for name, _ in run.steps("python", [])]
    assert names == ["lint", "format", "notebooks as stored", "tests and notebooks"]
    everything = run.steps("python", [])[-1][1]
    assert {"tests", "lessons", "--nbval-lax", "loadfile"} <= set(everything)
    assert "lessons" not in run.steps("python", [], notebooks=False)[-1][1]
    ((name, command),) = run.steps("python", ["tests/rig", "-k", "sweep"])
    assert name == "pytest" and command[-3:] == ["tests/rig", "-k", "sweep"]


def test_any_failing_step_fails_the_run(monkeypatch, capsys):
    monkeypatch.setattr(run, "ready_python", lambda: "python")
    monkeypatch.setattr(run.start, "write_settings", lambda: [])
    monkeypatch.setattr(run.subprocess, "call", lambda command, **_: int("format" in command))
    assert run.main([]) == 1
    out = capsys.readouterr().out
    assert "FAILED  format" in out and "passed  lint" in out
    homes = []
    monkeypatch.setattr(run.subprocess, "call", lambda command, env, **_: homes.append(env["JETLIB_HOME"]) or 0)
    assert run.main([]) == 0
    assert not Path(homes[0]).exists(), "the home of the tests is thrown away"
