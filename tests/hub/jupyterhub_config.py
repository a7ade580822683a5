"""Settings of the JupyterHub that serves the course to a room. `room.py serve` starts it; it is read as root.

Everything has its place under the room's folder, of which this file's copy is part. What a trainer may want to change
comes in by the options of `room.py serve`, which reach here as variables named ROOM_….
"""

import os
import sys
from pathlib import Path

c = get_config()  # noqa: F821

ROOM = Path(__file__).resolve().parents[2]
PRIVATE = ROOM / "private"  # root's alone
GROUP = os.environ["ROOM_GROUP"]  # who is in this group may log in
PORT = int(os.environ.get("ROOM_PORT", "8000"))
IDLE = int(os.environ.get("ROOM_IDLE_SECONDS", "3600"))
HOURS = float(os.environ.get("ROOM_HOURS", "12"))  # longest that a sign-in is good for

# --- doors ---
# Only this one is meant for the room. The two others stay on this machine and ask for a secret of their own.
scheme = "https" if (PRIVATE / "tls.crt").exists() else "http"
c.JupyterHub.bind_url = f"{scheme}://{os.environ.get('ROOM_ADDRESS', '127.0.0.1')}:{PORT}/"
c.JupyterHub.hub_bind_url = f"http://127.0.0.1:{PORT + 2}"
c.ConfigurableHTTPProxy.api_url = f"http://127.0.0.1:{PORT + 1}"
c.ConfigurableHTTPProxy.command = [str(ROOM / "proxy/node_modules/.bin/configurable-http-proxy")]
c.ConfigurableHTTPProxy.pid_file = str(PRIVATE / "proxy.pid")
if scheme == "https":
    c.JupyterHub.ssl_cert = str(PRIVATE / "tls.crt")
    c.JupyterHub.ssl_key = str(PRIVATE / "tls.key")

# --- what the hub remembers: who is signed in and whose server runs where, nothing of the course ---
# `room.py` deletes both files whenever it serves anew, makes seats or removes them: no sign-in outlives a class.
c.JupyterHub.db_url = f"sqlite:///{PRIVATE / 'hub.sqlite'}"
c.JupyterHub.cookie_secret_file = str(PRIVATE / "cookie_secret")
c.JupyterHub.cookie_max_age_days = HOURS / 24
c.JupyterHub.token_expires_in_max_seconds = round(HOURS * 3600)

# --- who may come in: the accounts that `room.py seats` made, by the password on their slip. No admin at all. ---
c.JupyterHub.authenticator_class = "pam"
c.PAMAuthenticator.allowed_groups = {GROUP}
c.Authenticator.admin_users = set()
c.JupyterHub.allow_named_servers = False
c.JupyterHub.template_paths = [str(ROOM / "tests/hub/templates")]

# --- each learner's server: a process of the learner's own account, in the learner's own home ---
c.JupyterHub.spawner_class = "jupyterhub.spawner.LocalProcessSpawner"
c.Spawner.cmd = [sys.executable, str(ROOM / "tests/hub/seat.py")]
c.Spawner.notebook_dir = "~"
c.Spawner.default_url = "/lab/tree/lessons/00_start_here.ipynb"
c.Spawner.environment = {
    "ROOM_MEMORY_MB": os.environ.get("ROOM_MEMORY_MB", "1024"),
    "JETLIB_UNITS": os.environ.get("ROOM_UNITS", "US"),  # until a learner chooses others
    # One thread of arithmetic a kernel: with a whole room on the machine, more only costs memory.
    "OPENBLAS_NUM_THREADS": "1",
    "OMP_NUM_THREADS": "1",
}
c.Spawner.start_timeout = 180  # a whole room may press the button in the same second
c.Spawner.http_timeout = 180
c.Spawner.poll_interval = 10  # seconds until a server that died is noticed

# --- servers that nobody uses are stopped; what was done is on disk by then ---
c.JupyterHub.load_roles = [
    # What a learner may do: use a server of their own. No tokens for programs, no sharing.
    {"name": "user", "scopes": ["read:users!user", "users:activity!user", "servers!user", "access:servers!user"]},
    {
        "name": "idle-culler",
        "services": ["idle-culler"],
        "scopes": ["list:users", "read:users:activity", "read:servers", "delete:servers"],
    },
]
c.JupyterHub.services = [
    {
        "name": "idle-culler",
        "command": [
            sys.executable,
            "-m",
            "jupyterhub_idle_culler",
            f"--timeout={IDLE}",
            f"--cull-every={max(IDLE // 10, 2)}",
        ],
    }
]
