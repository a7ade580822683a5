"""A learner at a browser, as far as the servers can tell: forms, cookies, redirects, xsrf tokens, websockets."""

import json
import time
import uuid
from html.parser import HTMLParser
from urllib.parse import urlsplit

import requests
import websocket


class _Form(HTMLParser):
    """Address and fields of the first form of a page."""

    def __init__(self, text):
        super().__init__()
        self.action, self.fields = None, {}
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        attributes = dict(attributes)
        if tag == "form" and self.action is None:
            self.action = attributes["action"]
        elif tag == "input" and attributes.get("name"):
            self.fields[attributes["name"]] = attributes.get("value", "")


class Learner:
    """Somebody with a name and a password, at a hub's address. One to a thread."""

    def __init__(self, hub, name, password):
        self.hub, self.name, self.password = hub, name, password
        self.server = f"{hub}/user/{name}"
        self.session = requests.Session()
        self.session.trust_env = False  # no proxy: the hub is on this machine
        # The hub's proxy drops a connection that has been idle for five seconds, as it is while a kernel starts;
        # a browser then asks again by itself. Here each request has a connection of its own.
        self.session.headers["Connection"] = "close"
        self.kernels = []

    def close(self):
        for kernel in self.kernels:
            kernel.close()
        self.session.close()

    def log_in(self):
        """Send the login form; whether the hub lets the learner in."""
        page = self.session.get(f"{self.hub}/hub/login", timeout=60)
        form = _Form(page.text)
        form.fields |= {"username": self.name, "password": self.password}
        sent = self.session.post(self.hub + form.action, form.fields, allow_redirects=False, timeout=120)
        return sent.status_code == 302

    def start_server(self, seconds=240):
        """Ask for the server and wait on its page, as the browser does, until JupyterLab itself answers."""
        until = time.monotonic() + seconds
        # A server that has just died is missed after some seconds; until then the hub says 503, and people reload.
        while self.session.get(f"{self.hub}/hub/spawn", timeout=120).status_code == 503 and time.monotonic() < until:
            time.sleep(1.0)
        while time.monotonic() < until:
            page = self.session.get(f"{self.server}/lab/tree/lessons/00_start_here.ipynb", timeout=120)
            if page.status_code == 200 and urlsplit(page.url).path.startswith(f"/user/{self.name}/lab"):
                assert "jupyter-config-data" in page.text
                return
            if page.status_code in (424, 503):  # it has died since: the hub's page has a button to ask once more
                self.session.get(f"{self.hub}/hub/spawn", timeout=120)
            time.sleep(0.5)
        raise TimeoutError(f"no server for {self.name} after {seconds} s")

    def xsrf(self, path):
        """The token that pages under `path` carry."""
        return next(cookie.value for cookie in self.session.cookies if cookie.name == "_xsrf" and cookie.path == path)

    def ask(self, path, method="GET", server=None, **options):
        """Answer of a single-user server's API, the learner's own unless told otherwise."""
        headers = {"X-XSRFToken": self.xsrf(f"/user/{self.name}/")}
        return self.session.request(method, f"{server or self.server}/{path}", headers=headers, timeout=120, **options)

    def kernel(self, notebook):
        """A running kernel for a page, as opening it in JupyterLab makes one."""
        wanted = {"path": notebook, "name": notebook, "type": "notebook", "kernel": {"name": "python3"}}
        made = self.ask("api/sessions", "POST", json=wanted)
        made.raise_for_status()
        self.kernels.append(Kernel(self, made.json()["kernel"]["id"]))
        return self.kernels[-1]

    def cells(self, notebook):
        """Source of each code cell of a page in the learner's home."""
        got = self.ask(f"api/contents/{notebook}")
        got.raise_for_status()
        return [cell["source"] for cell in got.json()["content"]["cells"] if cell["cell_type"] == "code"]


class CellError(Exception):
    """What a cell raised."""


class Kernel:
    """A kernel at the other end of a websocket through proxy and server."""

    def __init__(self, learner, kernel_id):
        self.id, self.session = kernel_id, uuid.uuid4().hex
        path = f"/user/{learner.name}/"
        cookies = "; ".join(f"{each.name}={each.value}" for each in learner.session.cookies if each.path in (path, "/"))
        address = f"{learner.server}/api/kernels/{kernel_id}/channels?session_id={self.session}"
        self.socket = websocket.create_connection(
            f"{address}&_xsrf={learner.xsrf(path)}".replace("http", "ws", 1),
            cookie=cookies,
            origin=learner.hub,
            timeout=200,
        )

    def start(self, code):
        """Send code; returns the message's id."""
        header = {"msg_id": uuid.uuid4().hex, "msg_type": "execute_request", "session": self.session}
        header |= {"username": "", "version": "5.3", "date": ""}
        content = {"code": code, "silent": False, "store_history": True, "user_expressions": {}, "allow_stdin": False}
        message = {"header": header, "parent_header": {}, "metadata": {}, "content": content, "channel": "shell"}
        self.socket.send(json.dumps(message | {"buffers": []}))
        return header["msg_id"]

    def messages(self, sent):
        """What comes back for one message, until the kernel is idle again."""
        while True:
            raw = self.socket.recv()
            if not raw:
                raise ConnectionError("the server closed the line")
            if isinstance(raw, bytes):
                continue  # widget messages with pictures in buffers
            message = json.loads(raw)
            if message["parent_header"].get("msg_id") != sent:
                continue
            yield message
            if message["msg_type"] == "status" and message["content"]["execution_state"] == "idle":
                return

    def run(self, code):
        """Run code; what it printed or showed last as text. Raises CellError."""
        said = []
        for message in self.messages(self.start(code)):
            content = message["content"]
            if message["msg_type"] == "error":
                raise CellError("\n".join(content["traceback"]))
            if message["msg_type"] == "stream":
                said.append(content["text"])
            elif message["msg_type"] in ("execute_result", "display_data"):
                said.append(content["data"].get("text/plain", ""))
        return "".join(said)

    def close(self):
        self.socket.close()
