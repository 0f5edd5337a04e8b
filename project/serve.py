"""Serve the site: web server and worker are children of this one process, and end with it.

`python -m project.serve` is what `make run` starts when all is set up. It answers at
http://127.0.0.1:PORT/ until Ctrl-C, or until the web server dies. A worker that dies is started again.
"""

import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

HOST = "127.0.0.1"
BASE_DIR = Path(__file__).resolve().parent.parent
SECONDS_TO_STOP = 15
THREADS = 24
"""Requests at once; who sends one slowly holds a thread, unless a proxy in front takes it in whole."""
FIRST_WAIT, LONGEST_WAIT = 1.0, 60.0
"""Seconds until a worker that died is started again: twice as many each time, unless it lived that long."""


def main() -> int:
    port = os.environ.get("PORT", "8000")
    if fault := what_is_wrong_with(port):
        say(fault)
        return 1
    command = commands(port)
    server, worker = start(command["web server"]), Restarted(command["worker"], time.monotonic())
    stopping: list[int] = []
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, lambda received, _frame: stopping.append(received))
    say(welcome(port))
    while not stopping and server.poll() is None:
        worker.look_after(time.monotonic())
        time.sleep(0.2)
    stop([server, worker.child])
    if stopping:
        say("Stopped.")
        return 0
    say("The web server ended by itself, so all was stopped. The lines above say why.")
    return 1


class Restarted:
    """A child that is started again when it dies, so that what it does is late and not left undone."""

    def __init__(self, command: list[str], now: float) -> None:
        self.command = command
        self.child, self.started_at = start(command), now
        self.wait = FIRST_WAIT
        self.due_at: float | None = None

    def look_after(self, now: float) -> None:
        """Start it again if it is dead and has waited long enough; `now` in seconds of any clock."""
        if self.due_at is not None and now >= self.due_at:
            self.child, self.started_at, self.due_at = start(self.command), now, None
        elif self.due_at is None and self.child.poll() is not None:
            if now - self.started_at > LONGEST_WAIT:
                self.wait = FIRST_WAIT
            say(f"The worker ended by itself and is started again in {self.wait:.0f} s; the site goes on.")
            self.due_at = now + self.wait
            self.wait = min(2 * self.wait, LONGEST_WAIT)


def what_is_wrong_with(port: str) -> str | None:
    """Say in one sentence why the site can't be served at `port`, or None when it can."""
    if not port.isdigit() or not 0 < int(port) < 65536:
        return f"PORT is {port!r}: give a number from 1 to 65535, for example `make run PORT=8080`."
    with socket.socket() as trial:
        trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            trial.bind((HOST, int(port)))
        except PermissionError:
            return f"Port {port} needs an administrator: choose one above 1023, `make run PORT=8080`."
        except OSError:
            return f"Port {port} is taken by another program: stop that, or choose one, `make run PORT=8080`."
    return None


def commands(port: str) -> dict[str, list[str]]:
    gunicorn = [sys.executable, "-m", "gunicorn", "--log-level", "warning"]
    threads = ["--worker-class", "gthread", "--workers", "1", "--threads", str(THREADS)]
    return {
        "web server": [*gunicorn, *threads, "--bind", f"{HOST}:{port}", "project.wsgi"],
        "worker": [sys.executable, "manage.py", "db_worker", "--no-reload", "--no-startup-delay"],
    }


def welcome(port: str) -> str:
    sign_ins = Path(os.environ.get("VAR_DIR", BASE_DIR / "var")) / "demo-sign-ins.txt"
    lines = [f"Serving at http://{HOST}:{port}/  (Ctrl-C stops it)"]
    if sign_ins.exists():
        lines += ["", sign_ins.read_text().rstrip()]
    return "\n".join(lines)


def start(command: list[str]) -> subprocess.Popen[bytes]:
    """Start a child that the terminal's Ctrl-C does not reach: it is this process that ends it, once."""
    return subprocess.Popen(command, cwd=BASE_DIR, start_new_session=True)  # noqa: S603


def stop(children: list[subprocess.Popen[bytes]]) -> None:
    """Ask each child to end, and end by force what hasn't after a while."""
    for child in children:
        child.terminate()
    for child in children:
        try:
            child.wait(SECONDS_TO_STOP)
        except subprocess.TimeoutExpired:
            child.kill()
            child.wait()


def say(words: str) -> None:
    sys.stdout.write(words + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())
