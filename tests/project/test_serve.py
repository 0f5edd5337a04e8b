import signal
import socket
import subprocess
import sys
from itertools import pairwise

import pytest

from project import serve


@pytest.fixture
def handlers_put_back():
    kept = {number: signal.getsignal(number) for number in (signal.SIGINT, signal.SIGTERM)}
    yield
    for number, handler in kept.items():
        signal.signal(number, handler)


@pytest.fixture
def free_port(monkeypatch) -> str:
    with socket.socket() as trial:
        trial.bind((serve.HOST, 0))
        port = str(trial.getsockname()[1])
    monkeypatch.setenv("PORT", port)
    return port


def python(code: str) -> list[str]:
    return [sys.executable, "-c", code]


def test_a_taken_port_gets_one_sentence_that_offers_another():
    with socket.socket() as other:
        other.bind((serve.HOST, 0))
        other.listen()
        fault = serve.what_is_wrong_with(str(other.getsockname()[1]))
    assert fault is not None
    assert "taken by another program" in fault
    assert "PORT=" in fault


@pytest.mark.parametrize("port", ["", "http", "0", "70000", "-1"])
def test_what_is_no_port_gets_one_sentence(port):
    assert "give a number from 1 to 65535" in (serve.what_is_wrong_with(port) or "")


def test_a_free_port_is_served(free_port):
    assert serve.what_is_wrong_with(free_port) is None


def test_the_sign_ins_are_shown_with_the_address(tmp_path, monkeypatch):
    monkeypatch.setenv("VAR_DIR", str(tmp_path))
    assert "http://127.0.0.1:8123/" in serve.welcome("8123")
    (tmp_path / "demo-sign-ins.txt").write_text("crew  osei@example.net  words\n")
    assert serve.welcome("8123").endswith("crew  osei@example.net  words")


LIVES, DIES = python("import time; time.sleep(600)"), python("raise SystemExit(3)")


@pytest.fixture
def started(monkeypatch) -> list[subprocess.Popen[bytes]]:
    """Every child, in the order of their starts."""
    children: list[subprocess.Popen[bytes]] = []
    start = serve.start
    monkeypatch.setattr(serve, "start", lambda command: children.append(start(command)) or children[-1])
    return children


def test_when_the_web_server_dies_the_worker_is_stopped(
    free_port, handlers_put_back, started, monkeypatch, capsys
):
    monkeypatch.setattr(serve, "commands", lambda port: {"web server": DIES, "worker": LIVES})
    assert serve.main() == 1
    assert [child.poll() for child in started] == [3, -signal.SIGTERM]
    assert "The web server ended by itself" in capsys.readouterr().out


def test_when_the_worker_dies_it_is_started_again_and_the_site_goes_on(
    free_port, handlers_put_back, started, monkeypatch, capsys
):
    def enough_seen(_seconds):
        if len(started) == 4:
            started[0].terminate()
        for child in started[1:]:
            child.wait()

    monkeypatch.setattr(serve, "commands", lambda port: {"web server": LIVES, "worker": DIES})
    monkeypatch.setattr(serve, "FIRST_WAIT", 0.0)
    monkeypatch.setattr("time.sleep", enough_seen)
    assert serve.main() == 1
    assert len(started) >= 4
    assert [child.poll() for child in started[:4]] == [-signal.SIGTERM, 3, 3, 3]
    assert "The worker ended by itself and is started again" in capsys.readouterr().out


def test_a_worker_that_keeps_dying_is_started_less_and_less_often(started):
    worker = serve.Restarted(DIES, now=0)
    starts, now = [0.0], 0.0
    while len(starts) < 9:
        worker.child.wait()
        if len(started) > len(starts):
            starts.append(now)
        now += 0.5
        worker.look_after(now)
    waits = [later - earlier for earlier, later in pairwise(starts)]
    assert [int(wait) for wait in waits] == [1, 2, 4, 8, 16, 32, 60, 60]


def test_a_worker_that_lived_for_long_is_started_again_soon(started):
    worker = serve.Restarted(DIES, now=0)
    worker.wait = serve.LONGEST_WAIT
    worker.child.wait()
    worker.look_after(3600)
    assert worker.due_at == 3600 + serve.FIRST_WAIT
    assert len(started) == 1


def test_a_signal_stops_both_children_and_is_no_fault(free_port, handlers_put_back, monkeypatch, capsys):
    parent = "import os, signal, time; os.kill(os.getppid(), signal.SIGTERM); time.sleep(600)"
    children = {"web server": python("import time; time.sleep(600)"), "worker": python(parent)}
    monkeypatch.setattr(serve, "commands", lambda port: children)
    assert serve.main() == 0
    assert capsys.readouterr().out.endswith("Stopped.\n")


def test_a_child_that_does_not_listen_is_ended_by_force(monkeypatch):
    monkeypatch.setattr(serve, "SECONDS_TO_STOP", 0.2)
    deaf = (
        "import signal, time; signal.signal(signal.SIGTERM, signal.SIG_IGN);"
        "print('deaf', flush=True); time.sleep(600)"
    )
    child = subprocess.Popen(python(deaf), stdout=subprocess.PIPE)
    assert child.stdout is not None
    child.stdout.readline()
    serve.stop([child])
    child.stdout.close()
    assert child.poll() == -signal.SIGKILL
