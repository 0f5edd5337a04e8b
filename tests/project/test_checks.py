from datetime import timedelta

import pytest
from django.core.checks import run_checks

from records.certificates import make_certificate
from shared import clock

RANDOM = "q8ZrT2vLw0XyB5nKc7MdE1fGhJ3iPoUaSxWzV4bNt6RyQeLkMj"


def found() -> set[str]:
    return {message.id for message in run_checks() if (message.id or "").startswith("project.")}


@pytest.fixture(autouse=True)
def safe(settings) -> None:
    settings.SECRET_KEY = RANDOM
    settings.DEBUG = False
    settings.ALLOWED_HOSTS = ["127.0.0.1", "localhost", "[::1]"]


@pytest.fixture
def public(settings) -> None:
    settings.ALLOWED_HOSTS = ["records.example.net"]
    settings.BASE_ADDRESS = "https://records.example.net"
    settings.BEHIND_TLS = True


def test_the_defaults_of_one_small_machine_are_safe():
    assert found() == set()


def test_a_public_site_behind_tls_is_safe(public):
    assert found() == set()


@pytest.mark.parametrize("open_path", ["folder", "database", "photos"])
def test_what_others_on_the_machine_could_read_is_told(settings, tmp_path, open_path):
    settings.VAR_DIR = tmp_path / "var"
    settings.VAR_DIR.mkdir(mode=0o755 if open_path == "folder" else 0o700)
    settings.DATABASE_FILE = settings.VAR_DIR / "log.sqlite3"
    settings.DATABASE_FILE.touch(0o644 if open_path == "database" else 0o600)
    settings.FILES_DIR.mkdir(mode=0o755 if open_path == "photos" else 0o700)
    assert found() == {"project.W006"}


def test_debug_with_a_public_address_is_refused(public, settings):
    settings.DEBUG = True
    assert found() == {"project.E001"}


def test_debug_at_home_is_allowed(settings):
    settings.DEBUG = True
    assert found() == set()


@pytest.mark.parametrize("key", ["short", "a" * 60, "django-insecure-" + RANDOM])
def test_a_key_that_could_be_guessed_is_refused(settings, key):
    settings.SECRET_KEY = key
    assert found() == {"project.E002"}


def test_a_public_address_without_tls_is_refused(public, settings):
    settings.BEHIND_TLS = False
    assert found() == {"project.E003"}


def test_a_site_that_answers_to_any_name_is_warned_of(public, settings):
    settings.ALLOWED_HOSTS = ["*"]
    assert found() == {"project.W004"}


def test_a_signing_key_that_others_can_read_is_refused(settings, tmp_path):
    folder = tmp_path / "keys"
    folder.mkdir(mode=0o700)
    settings.KEY_DIR = folder
    (folder / "firm.pem").touch(mode=0o600)
    assert found() == set()
    (folder / "firm.pem").chmod(0o644)
    assert found() == {"project.E005"}


def test_an_own_certificate_that_cannot_be_used_is_refused_and_a_lapsed_one_warned_of(settings, tmp_path):
    firm, path = "6f1b1d56-5e0b-4a0e-8b7e-0f6a2c7b9d10", tmp_path / "own.pem"
    settings.PDF_CERTIFICATES = {firm: str(path)}
    assert found() == {"project.E007"}
    path.write_bytes(make_certificate("Quillfeather", clock.now()).as_pem())
    assert found() == set()
    settings.PDF_CERTIFICATES = {"Quillfeather": str(path)}
    assert found() == {"project.E007"}
    settings.PDF_CERTIFICATES = {firm: str(path)}
    path.write_bytes(make_certificate("Quillfeather", clock.now() - timedelta(days=31 * 365)).as_pem())
    assert found() == {"project.W008"}


def test_a_time_stamp_authority_that_cannot_be_asked_or_judged_is_refused(settings, tmp_path):
    settings.TIME_STAMP_AUTHORITY = "stamps.example.net"
    assert found() == {"project.E009"}
    settings.TIME_STAMP_AUTHORITY = "https://stamps.example.net/tsa"
    assert found() == set()
    settings.TIME_STAMP_ROOTS = str(tmp_path / "roots.pem")
    assert found() == {"project.E010"}
    (tmp_path / "roots.pem").write_text("no certificate")
    assert found() == {"project.E010"}
