"""pip kept in order: what of the learner's settings it sees, what a reader sees of it, and that it ends."""

import json
import os
import sys
from pathlib import Path

import pytest
import start_pip
import start_place

ROOT = Path(__file__).parents[2]


def test_python_without_ensurepip(root, monkeypatch):
    monkeypatch.setattr(start_pip.importlib.util, "find_spec", lambda name: None if name == "ensurepip" else object())
    with pytest.raises(start_place.SetupProblem, match="apt install python3-venv"):
        start_pip.make_venv(root / ".venv-new", root)


def test_pip_news_in_plain_words():
    seen = set()
    assert start_pip.pip_news("Collecting numpy<3,>=2.0 (from -r requirements.txt (line 3))\n", seen).endswith(
        "1 of about 110"
    )
    assert "2 of" in start_pip.pip_news("  Collecting pint\n", seen)
    assert "numpy 16.8 MB" in start_pip.pip_news("  Downloading numpy-2.4.6-cp311-win_amd64.whl (16.8 MB)\n", seen)
    assert start_pip.pip_news("Installing collected packages: a, b, c\n", seen) == "Installing 3 packages"
    assert "does not answer" in start_pip.pip_news(
        "WARNING: Retrying (Retry(total=4)) after connection broken by\n", seen
    )
    assert start_pip.pip_news("  Preparing metadata\n", seen) is None


def test_run_logged_keeps_the_output(root, capsys):
    (root / ".venv").mkdir()
    log = root / ".venv" / "log.txt"
    command = [sys.executable, "-c", "import os; print('in', os.getcwd()); print('Collecting a'); raise SystemExit(3)"]
    code, output = start_pip.run_logged(command, root, log, begin="Fetching", end="Fetched")
    assert code == 3
    assert str(root) in output and output == log.read_text("utf-8")
    assert "Fetching: failed" in capsys.readouterr().out


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
    made = start_place.environment(root, base={**own, **kept})
    assert "theirs" not in json.dumps(made)
    assert kept.items() <= made.items()
    folders = [value for name, value in made.items() if name.startswith(("JUPYTER", "IPYTHON", "MPL", "VIRTUAL"))]
    assert len(folders) == 9
    assert all(Path(value).is_relative_to(root / ".venv") for value in folders)
    assert made["PATH"].split(os.pathsep)[0] == str(start_place.venv_python(root).parent)
