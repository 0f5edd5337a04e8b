"""Two dozen phones write eight treatments at once, each entry sent twice: nothing is lost, nothing doubled."""

import json
import socket
import subprocess
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import Any
from urllib.request import Request, urlopen
from uuid import UUID

import pytest

from project.serve import commands
from tests.faults.programs import ROOT, environment, printed_by

pytestmark = pytest.mark.long

ENTRIES = 15
SECONDS_TO_START = 60
TOKEN = "t" * 32


class Site:
    """The served site, as phones reach it."""

    def __init__(self, port: int, firm: dict[str, Any]) -> None:
        self.address = f"http://127.0.0.1:{port}"
        self.sessions, self.treatments = firm["sessions"], firm["treatments"]

    def ask(self, session: str, path: str, data: object = None) -> dict[str, Any]:
        headers = {
            "Content-Type": "application/json",
            "Cookie": f"sessionid={session}; csrftoken={TOKEN}",
            "X-CSRFToken": TOKEN,
        }
        body = None if data is None else json.dumps(data).encode()
        with urlopen(Request(self.address + path, body, headers), timeout=60) as answer:
            return json.load(answer)

    def document(self, treatment: str) -> dict[str, Any]:
        return self.ask(self.sessions[0], f"/api/v1/treatments/{treatment}/")

    def write(self, phone: int) -> None:
        """What one phone has to say of its treatment: wind readings, each sent a second time."""
        treatment = self.treatments[phone % len(self.treatments)]
        for number in range(ENTRIES):
            uuid = reading(phone, number)
            value = {"id": uuid, "wind_speed": {"value": str(number), "unit": "mph"}}
            edit = {"id": uuid, "path": f"weather.readings[{uuid}]", "value": value, "base_revision": 0}
            for _ in range(2):
                answer = self.ask(
                    self.sessions[phone], f"/api/v1/treatments/{treatment}/edits/", {"edits": [edit]}
                )
                assert not answer["conflicts"]
                assert uuid in {each["id"] for each in answer["document"]["weather"]["readings"]}


def reading(phone: int, number: int) -> str:
    return str(UUID(int=phone * 1000 + number + 1))


@pytest.fixture
def site(transactional_db, tmp_path) -> Iterator[Site]:
    (firm,) = printed_by("phones_of_a_firm", tmp_path)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    server = subprocess.Popen(commands(str(port))["web server"], cwd=ROOT, env=environment(tmp_path))
    try:
        wait_for(port, server)
        yield Site(port, firm)
    finally:
        server.terminate()
        server.wait(20)


def wait_for(port: int, server: subprocess.Popen[bytes]) -> None:
    for _ in range(SECONDS_TO_START * 10):
        with socket.socket() as trial:
            if trial.connect_ex(("127.0.0.1", port)) == 0:
                return
        assert server.poll() is None, "the web server ended by itself"
        time.sleep(0.1)
    raise AssertionError("the web server does not answer")


def test_what_two_dozen_phones_write_at_once_is_all_there_and_there_once(site):
    phones = range(len(site.sessions))
    with ThreadPoolExecutor(len(phones)) as pool:
        list(pool.map(site.write, phones))
    for index, treatment in enumerate(site.treatments):
        document = site.document(treatment)
        wrote = [phone for phone in phones if phone % len(site.treatments) == index]
        expected = sorted(reading(phone, number) for phone in wrote for number in range(ENTRIES))
        readings = document["document"]["weather"]["readings"]
        assert sorted(each["id"] for each in readings) == expected
        assert document["revision"] == len(expected)
