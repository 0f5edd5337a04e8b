import re

from tests.health.committed import ROOT, files, name_of

PICTURES = (".png", ".jpg", ".ico", ".ttf", ".woff2", ".pdf")
MACHINE_PATH = re.compile(r"(?<![\w.])/(home|root|Users|work)/[\w.]|file:/{3}\w")
ADDRESS = re.compile(r"https?://([\w.-]+)")


def texts() -> dict[str, str]:
    return {
        name_of(path): path.read_text(encoding="utf-8", errors="replace")
        for path in files()
        if not path.name.endswith(PICTURES)
    }


def test_no_file_names_a_path_of_somebodys_machine():
    assert {name for name, text in texts().items() if MACHINE_PATH.search(text)} == set()


def test_what_installs_the_project_names_no_host():
    installing = ("pyproject.toml", "Makefile", ".ci/run", *(path.name for path in ROOT.glob("*.lock")))
    named = {name: ADDRESS.findall((ROOT / name).read_text()) for name in installing}
    assert {name: set(hosts) - {"127.0.0.1"} for name, hosts in named.items()} == {
        name: set() for name in installing
    }


def test_invented_phones_and_mail_cannot_reach_anybody():
    """555-0100 to 555-0199 are kept for fiction (from memory); example.net is reserved by RFC 2606."""
    demo = "\n".join(text for name, text in texts().items() if name.startswith("fixtures/demo/"))
    phones = re.findall(r"\+1 \d{3} (\d{3} \d{4})", demo)
    assert phones
    assert all(phone.startswith("555 01") for phone in phones)
    mail = re.findall(r"[\w.-]+@([\w.-]+)", demo)
    assert mail
    assert all(host.endswith("example.net") for host in mail)
