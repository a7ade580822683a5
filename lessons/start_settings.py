"""The settings that the course's JupyterLab runs with, and where they are written: the environment's own folders.

Standard library only.
"""

import hashlib
import json
import shutil
from pathlib import Path

from start_environment import ROOT, venv_folder

START_PAGE = "00_start_here"


def server_config(root=ROOT, page=START_PAGE):
    """Text of the Jupyter server's settings file."""
    return f"""# Written by lessons/start.py at each start; changes made here are lost.
c = get_config()  # noqa: F821
c.ServerApp.root_dir = {str(root)!r}
c.ServerApp.allow_root = True  # in a container there is often nobody else
c.ServerApp.log_level = "ERROR"
c.LabApp.log_level = "ERROR"
c.LabApp.default_url = {f"/lab/tree/lessons/{page}.ipynb"!r}
# Nothing leaves this computer.
c.LabApp.news_url = None
c.LabApp.check_for_updates_class = "jupyterlab.NeverCheckForUpdate"
c.LabApp.extension_manager = "readonly"
"""


KERNEL_CONFIG = """# Written by lessons/start.py at each start; changes made here are lost.
c = get_config()  # noqa: F821
c.IPKernelApp.log_level = "ERROR"  # no warning that what stays on this computer is not encrypted
# What fails says so in one sentence; what every page uses is loaded while the browser still draws it.
c.InteractiveShellApp.extensions = ["jetlib.screen.page.plain_errors", "jetlib.screen.page.made_ready"]
"""


def lab_overrides():
    """JupyterLab's settings where they differ from its own: one document at a time, no pop-ups, no news."""
    return {
        "@jupyterlab/application-extension:shell": {"startMode": "single"},
        # Every cell is on the page, so that a link to a heading lands on it and the browser finds any word.
        "@jupyterlab/notebook-extension:tracker": {"windowingMode": "none"},
        "@jupyterlab/apputils-extension:notification": {
            "fetchNews": "false",
            "checkForUpdates": False,
            "doNotDisturbMode": True,
        },
    }


#: What makes the course's pages pages: reading cannot change them. JupyterHub's servers read it too.
PAGE_SETTINGS = {
    "ServerApp": {
        "contents_manager_class": "jetlib.screen.page.server.CoursePages",
        "jpserver_extensions": {"jetlib.screen.page": True},
    }
}


def lay_out_page(root=ROOT, data=None):
    """Put the extension that shows notebooks as pages where JupyterLab looks, Jupyter's folder `data`; its own folder.

    The scripts lie in a folder named by their content: a browser never mixes them with those of an older course.
    """
    source = Path(root) / "jetlib" / "screen" / "page"
    target = (data or venv_folder(root) / "share" / "jupyter") / "labextensions" / "jetlib-page"
    parts = sorted(path for path in source.glob("*.*") if path.suffix in (".js", ".css"))
    name = hashlib.sha256(b"".join(path.read_bytes() for path in parts)).hexdigest()[:12]
    if not (target / name / "style.css").is_file():
        shutil.rmtree(target, ignore_errors=True)
        (target / name).mkdir(parents=True)
        for path in parts:
            shutil.copyfile(path, target / name / path.name)
    package = json.loads((source / "package.json").read_text("utf-8"))
    package["jupyterlab"]["_build"]["load"] = f"{name}/entry.js"
    (target / "package.json").write_text(json.dumps(package, indent=1), "utf-8")
    return target


def write_settings(root=ROOT, page=START_PAGE):
    """Write the settings files into the environment; returns their paths."""
    unused = ("@jupyterlab/apputils-extension:announcements", "@jupyterlab/extensionmanager-extension:plugin")
    page_config = {"disabledExtensions": dict.fromkeys(unused, True)}
    files = {
        "etc/jupyter/jupyter_server_config.py": server_config(root, page),
        "etc/jupyter/jupyter_server_config.json": json.dumps(PAGE_SETTINGS, indent=1),
        "share/ipython/profile_default/ipython_kernel_config.py": KERNEL_CONFIG,
        "etc/jupyter/labconfig/page_config.json": json.dumps(page_config, indent=1),
        "share/jupyter/lab/settings/overrides.json": json.dumps(lab_overrides(), indent=1),
    }
    paths = {venv_folder(root) / name: text for name, text in files.items()}
    for path, text in paths.items():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    lay_out_page(root)
    return list(paths)
