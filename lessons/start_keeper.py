"""Run a command that must not outlive whoever asked for it: pip while the course is set up, JupyterLab while it runs.

    python start_keeper.py [--gently] COMMAND…

Whoever asks holds the other end of this program's standard input and writes nothing. When it closes that, or is
killed and the system closes it, the command ends, with all that it started. Its own end passes on its exit code.
"""

import contextlib
import os
import signal
import subprocess
import sys
import threading

PATIENCE = 10  # seconds that a command gets to put its things away, with --gently


def end(process, gently, windows=os.name == "nt"):
    """End the command and all that it started; this program goes with them."""
    if gently and not windows:  # which knows no polite way to end what has no window
        process.terminate()
        with contextlib.suppress(subprocess.TimeoutExpired):
            process.wait(PATIENCE)
    if windows:
        subprocess.call(["taskkill", "/F", "/T", "/PID", str(process.pid)], stdout=subprocess.DEVNULL)
    else:
        os.killpg(0, signal.SIGKILL)


def keep(command, gently):
    # Started in a group of its own by whoever asks: the group is what is ended.
    process = subprocess.Popen(command, stdin=subprocess.DEVNULL)

    def watch():
        sys.stdin.buffer.read()  # returns when the other end is closed
        end(process, gently)

    threading.Thread(target=watch, daemon=True).start()
    # Asked to end itself it takes the command along. In a thread: the wait below holds what another wait would need.
    asked = {"target": end, "args": (process, gently), "daemon": True}
    signal.signal(signal.SIGTERM, lambda *_: threading.Thread(**asked).start())
    return process.wait()


def main(words):
    gently = words[0] == "--gently"
    return keep(words[1:] if gently else words, gently)


if __name__ == "__main__":
    code = main(sys.argv[1:])
    # Not by sys.exit: the watching thread holds standard input, and Python would wait for it.
    os._exit(code if code >= 0 else 128 - code)
