"""The settings that the course's JupyterLab runs with."""

import json
import sys
from pathlib import Path

import pytest
import start_settings as settings


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
    paths = settings.write_settings(root, "bench")
    assert all(path.is_relative_to(root / ".venv") for path in paths)
    texts = {path.name: path.read_text("utf-8") for path in paths}
    assert read_config(texts["jupyter_server_config.py"])["ServerApp"]["root_dir"] == str(root)
    assert json.loads(texts["overrides.json"]) == settings.lab_overrides()
    assert json.loads(texts["page_config.json"])["disabledExtensions"]["@jupyterlab/apputils-extension:announcements"]
    assert read_config(texts["ipython_kernel_config.py"])["IPKernelApp"]["log_level"] == "ERROR"


def test_the_page_is_laid_out_where_jupyterlab_looks_and_again_when_it_changes(root):
    settings.write_settings(root)
    place = root / ".venv/share/jupyter/labextensions/jetlib-page"
    load = json.loads((place / "package.json").read_text("utf-8"))["jupyterlab"]["_build"]["load"]
    assert (place / load).is_file() and (place / load).with_name("style.css").is_file()
    assert settings.lay_out_page(root) == place
    assert [path.name for path in place.iterdir() if path.is_dir()] == [load.split("/")[0]]
    with open(root / "jetlib/screen/page/bar.js", "a", encoding="utf-8") as script:
        script.write("// newer")
    settings.lay_out_page(root)
    newer = json.loads((place / "package.json").read_text("utf-8"))["jupyterlab"]["_build"]["load"]
    assert newer != load and (place / newer).is_file() and not (place / load).exists()
