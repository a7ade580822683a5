"""Finding a JupyterLab that already shows the course."""

import http.server
import json
import threading

import start_server


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
        assert start_server.running_server(root) is None
        (runtime / "jpserver-99.json").write_text(json.dumps(info))
        assert start_server.running_server(root) == info
        assert start_server.running_server(root, token="another") is None
        assert not start_server.port_is_free(port)
        server.shutdown()
    assert start_server.port_is_free(port)
