"""The start script of a course in a test, with a pip of the test's own: nothing is fetched.

    python faked.py COURSE [what start.py understands]

FAKE_PIP says what that pip does: "works", "sleeps" (with a child that sleeps too, as pip has when it builds), or
"offline". Its JupyterLab answers, and writes a line into COURSE/servers.txt when it starts.
"""

import subprocess
import sys
from pathlib import Path

FAKE_PIP = """
import os, subprocess, sys, time
from pathlib import Path
venv = Path(sys.prefix)
packages = next(Path(path) for path in sys.path if path.endswith("site-packages"))
if "config" in sys.argv:
    sys.exit(0)
if os.environ["FAKE_PIP"] == "offline":
    sys.exit("ERROR: NewConnectionError: Temporary failure in name resolution")
if os.environ["FAKE_PIP"] == "sleeps":
    child = subprocess.Popen([sys.executable, "-c", "import time; time.sleep(600)"])
    half = venv.parent / "pids.half"
    half.write_text(f"{os.getpid()} {child.pid}")
    half.rename(venv.parent / "pids.txt")
    while True:  # goes on writing, as pip does
        (venv / "static").mkdir(parents=True, exist_ok=True)
        (venv / "static" / str(time.monotonic_ns())).touch()
        time.sleep(0.001)
for name in ("ipywidgets", "numpy", "matplotlib", "pint", "jupyterlab", "jetlib"):
    (packages / f"{name}-1.0.dist-info").mkdir()
    (packages / f"{name}-1.0.dist-info" / "METADATA").write_text(f"Name: {name}" + chr(10) + "Version: 1.0" + chr(10))
    if name == "jetlib":
        continue  # found in the course itself
    (packages / name).mkdir()
    (packages / name / "__init__.py").touch()
    time.sleep(float(os.environ.get("FAKE_PIP_PAUSE", "0")))
(packages / "jupyterlab" / "__main__.py").write_text(SERVER)
script = venv / "bin" / "jupyterlab"
script.write_text(f"#!{sys.executable}" + chr(10) + "print('it runs')" + chr(10))
script.chmod(0o755)
"""

SERVER = """
import http.server, json, os, threading, time
from pathlib import Path

class Answer(http.server.BaseHTTPRequestHandler):
    def do_GET(self):
        self.send_response(200)
        self.end_headers()
        self.wfile.write(b"{}")

    def do_POST(self):
        self.do_GET()
        threading.Thread(target=self.server.shutdown).start()

    def log_message(self, *_):
        pass

with open("servers.txt", "a") as file:
    file.write(f"{os.getpid()}" + chr(10))
time.sleep(0.5)  # the moment in which a second start must not begin another
server = http.server.HTTPServer(("127.0.0.1", 0), Answer)
info = {"url": f"http://127.0.0.1:{server.server_port}/", "port": server.server_port, "root_dir": os.getcwd(),
        "token": os.environ["JUPYTER_TOKEN"]}
runtime = Path(os.environ["JUPYTER_RUNTIME_DIR"])
runtime.mkdir(parents=True, exist_ok=True)
half = runtime / "half"
half.write_text(json.dumps(info))
half.rename(runtime / f"jpserver-{os.getpid()}.json")
server.serve_forever()
"""


def make_venv(venv, root):
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(venv)], check=True)
    pip = next(venv.glob("lib/python*/site-packages")) / "pip"
    pip.mkdir()
    (pip / "__init__.py").touch()
    (pip / "__main__.py").write_text(f"SERVER = {SERVER!r}\n" + FAKE_PIP, "utf-8")


if __name__ == "__main__":
    sys.path.insert(0, str(Path(sys.argv[1]) / "lessons"))
    import start
    import start_environment
    import start_pip

    start_pip.make_venv = make_venv
    start_environment.space_problem = lambda free, size: None
    sys.exit(start.main(sys.argv[2:]))
