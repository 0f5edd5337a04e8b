"""The script of a bundle says what is there and what may be beyond it, and one damaged thing hides no other."""

import json
import shutil

import pytest
from django.urls import reverse

from records.bundle import verify_records
from records.models import SigningKey, TreeHead
from records.services.follow_ups import sign_follow_up
from records.services.to_sign import Signer
from tests.records.logged import AT
from tests.records.test_bundle import bundle, change, first_record  # noqa: F401 - a fixture


@pytest.fixture
def check(monkeypatch, capsys):
    """Code and lines of the script on a folder."""

    def checked(folder, *arguments):
        monkeypatch.setattr("sys.argv", ["verify_records.py", str(folder), *map(str, arguments)])
        code = verify_records.main()
        return code, capsys.readouterr().out.splitlines()

    return checked


def fails(lines):
    return [line.removeprefix("FAILS     ") for line in lines if line.startswith("FAILS")]


def without(folder, version):
    """Leave out a version with its entry, and what the others say of it, as who hides a correction would."""
    (path,) = folder.glob(f"records/*-v{version}.json")
    name = path.relative_to(folder).as_posix()
    gone = verify_records.digest(verify_records.canonical_bytes(json.loads(path.read_text())["record"]))
    path.unlink()

    def unlisted(log):
        log["files"].remove(name)
        log["entries"] = [one for one in log["entries"] if one["digest"] != gone]

    change(folder, "log.json", unlisted)
    for other in folder.glob("records/*.json"):
        change(folder, other.relative_to(folder), lambda file: file.pop("superseded_by", None))


def test_a_record_that_no_log_entry_vouches_for_fails(bundle, done, check):  # noqa: F811
    name = "records/2026-9999-v1.json"
    shutil.copy(bundle / first_record(bundle), bundle / name)
    change(bundle, name, lambda file: file["record"]["record"].update(number="2026-9999"))
    unvouched = f"{name}: it lies in the bundle and is in no log entry: nothing vouches for it"
    assert fails(check(bundle)[1]) == [unvouched]
    change(bundle, "log.json", lambda log: log["files"].append(name))
    place = "its place in the log: it is not among the bundle's entries"
    assert f"2026-9999 version 1, {place}" in fails(check(bundle)[1])


def test_a_file_says_by_its_name_which_version_it_holds(bundle, done, check):  # noqa: F811
    first, second = (bundle / f"records/{done.number}-v{version}.json" for version in (1, 2))
    one, other = first.read_bytes(), second.read_bytes()
    first.write_bytes(other)
    second.write_bytes(one)
    change(bundle, "log.json", lambda log: log["files"].append(log["files"][0]))
    names = [f"records/{done.number}-v{version}.json" for version in (1, 2)]
    assert fails(check(bundle)[1]) == [
        f"{names[0]}: the log lists it twice",
        f"{names[0]}: its name is not that of what it holds, {done.number} version 2",
        f"{names[1]}: its name is not that of what it holds, {done.number} version 1",
    ]


def test_what_is_superseded_or_void_is_called_so_beside_its_digest(bundle, done, logged, check):  # noqa: F811
    code, lines = check(bundle)
    told = [line for line in lines if line.startswith("record")]
    void = "void: version 3 says so"
    first, second = (f"superseded by version 3, which is in this bundle, {void}" for _version in (1, 2))
    for line, record, fate in zip(told, (logged[0], logged[3], logged[6]), (first, second, void), strict=True):
        head = TreeHead.objects.for_firm(done.firm).get(size=record.entry.index + 1).head
        came_in = f"came in at {head['at']} (signed head)"
        said = f"record    {done.number} version {record.version}, {record.digest}, {fate}, {came_in}"
        assert line.startswith(said)
    assert code == 0


def test_a_bundle_says_how_much_of_the_log_it_shows_and_of_what_day(bundle, firm, check):  # noqa: F811
    lines = check(bundle)[1]
    newest = TreeHead.objects.for_firm(firm).get(size=7).head["at"]
    ends = f"The log as this bundle has it ends at {newest}, when its last entry came in"
    later = "the bundle was made then or later. What came in after that entry is not in it."
    assert f"{ends}; {later}" in lines
    assert "It shows all 7 entries of the log, no gap." in lines
    without(bundle, 3)
    code, lines = check(bundle)
    assert code == 0
    (told,) = [line for line in lines if line.startswith("It shows")]
    assert told.startswith("It shows 6 of 7 entries of the log; a later version, a void or a follow-up may")


def test_a_version_that_is_elsewhere_is_told(bundle, done, check):  # noqa: F811
    without(bundle, 3)
    later = {"version": 3, "digest": "sha256:" + "0" * 64, "kind": "void"}
    change(bundle, first_record(bundle), lambda file: file.update(superseded_by=later))
    line = next(line for line in check(bundle)[1] if line.startswith("record"))
    assert "superseded by version 2, which is in this bundle" in line
    assert "superseded by version 3, which is not in this bundle" in line


def test_of_an_empty_bundle_nothing_is_said_to_hold(bundle, check):  # noqa: F811
    shutil.rmtree(bundle / "records")
    change(bundle, "log.json", lambda log: log.update(files=[], entries=[], earlier=[]))
    code, lines = check(bundle)
    assert (code, lines[-1]) == (2, "There is nothing to check: no record is in this bundle.")


STATED = {
    "a time at which it came in": (
        lambda file: file["entry"].update(received_at="2020-01-01T00:00:00+00:00"),
        "entry.received_at 2020-01-01T00:00:00+00:00: the head that was signed when it came in says",
    ),
    "another kind": (lambda file: file["entry"].update(kind="void"), "entry.kind void: it was signed as"),
    "another reason": (lambda file: file["entry"].update(reason="x"), "entry.reason: another reason was"),
    "an earlier version in its place": (
        lambda file: file["superseded_by"].update(version=1),
        "superseded_by version 1: that is no later version",
    ),
    "another record in its place": (
        lambda file: file["superseded_by"].update(digest="sha256:00"),
        "superseded_by version 3: that version in this bundle is sha256:",
    ),
    "a check": (lambda file: file.update(check={"overall": "met"}), "check: this is not the check that was"),
    "a key": (lambda file: file["keys"].update({"sha256:aa": "bb"}), "it is not among the bundle's keys"),
    "a change of key": (
        lambda file: file.update(key_changes=[{"key": "sha256:aa"}]),
        "a change of key: it is not among those of the log",
    ),
    "a member": (lambda file: file.update(inspector="approved"), "inspector: there is no such member"),
    "a member of a part": (lambda file: file["entry"].update(seen=True), "entry.seen: there is no such member"),
    "a follow-up again": (
        lambda file: file["follow_ups"].append(file["follow_ups"][0]),
        "follow-up 5: it stands there twice",
    ),
}


@pytest.mark.parametrize("what", STATED)
def test_what_stands_beside_what_was_signed_must_agree_with_it(bundle, done, check, what):  # noqa: F811
    changed, means = STATED[what]
    change(bundle, first_record(bundle), changed)
    code, lines = check(bundle)
    assert code == 1
    (failing,) = fails(lines)
    assert failing.startswith(f"{done.number} version 1, ")
    assert means in failing


def test_what_nobody_signed_is_called_stated(bundle, done, check):  # noqa: F811
    without(bundle, 3)
    later = {"version": 3, "digest": "sha256:" + "0" * 64, "kind": "void"}
    change(bundle, first_record(bundle), lambda file: file.update(superseded_by=later))
    code, lines = check(bundle)
    assert code == 0
    said = [line for line in lines if line.startswith(f"stated    {done.number} version 1, ")]
    assert said[0].endswith("superseded_by version 3")
    assert "entry.proof" in said[1]


def test_without_the_head_of_its_entry_nothing_shows_when_a_record_came_in(bundle, done, check):  # noqa: F811
    change(bundle, "log.json", lambda log: log["entries"][0].pop("head"))
    code, lines = check(bundle)
    assert (code, lines[-1]) == (3, "Not all could be checked.")
    told = f"{done.number} version 1, the head that was signed when it came in: it is not in this bundle"
    assert any(line.startswith(f"unproved  {told}") for line in lines)
    (record,) = (line for line in lines if line.startswith(f"record    {done.number} version 1, "))
    assert "when it came in is unproved" in record
    assert any(line.startswith(f"stated    {done.number} version 1, entry.received_at") for line in lines)


def damaged(data, old, new):
    assert data.count(old)
    return data.replace(old, new, 1)


@pytest.mark.parametrize(
    ("name", "old", "new", "named"),
    [
        ("record", b'"sections"', b'"sectionz"', "version 1"),
        ("record", b"{", b"[", "-v1.json"),
        ("log.json", b'"index"', b'"indez"', "log.json, entry 1 of its list|version 1, its place in the log"),
        ("log.json", b'"entries"', b'"entriez"', "log.json, its entries"),
        ("log.json", b'"root"', b'"rooz"', "earlier head|the head that was signed when it came in"),
        ("log.json", b'"files"', b'"filez"', "nothing vouches for it"),
        ("keys.json", b"{", b"[", "keys.json"),
        ("SHA256SUMS", b"0", b"\xff", "SHA256SUMS"),
    ],
)
def test_a_damaged_part_is_named_and_the_rest_is_checked(bundle, done, check, name, old, new, named):  # noqa: F811
    path = bundle / (first_record(bundle) if name == "record" else name)
    path.write_bytes(damaged(path.read_bytes(), old, new))
    code, lines = check(bundle)
    assert (code, lines[-1]) == (1, "The bundle does not hold.")
    assert any(part in line for line in fails(lines) for part in named.split("|")), fails(lines)
    assert any(line.startswith("holds") for line in lines)
    again = [line.removeprefix("  FAILS   ") for line in lines if line.startswith("  FAILS")]
    assert again == fails(lines)


def test_a_line_is_one_line_whatever_stands_in_the_record(bundle, check):  # noqa: F811
    forged = "x\nholds     all of it"
    change(bundle, first_record(bundle), lambda file: file["record"]["record"].update(number=forged))
    assert not any(line.startswith("holds     all of it") for line in check(bundle)[1])


def test_a_key_is_read_as_people_copy_it(bundle, firm, check, capsys):  # noqa: F811
    key = SigningKey.objects.for_firm(firm).get().digest
    bare = key.removeprefix("sha256:")
    for written in (key.upper(), bare, f" {bare[:32]} {bare[32:]} "):
        assert check(bundle, "--key", written)[0] == 0
    with pytest.raises(SystemExit) as ended:
        check(bundle, "--key", bare[:-1])
    assert ended.value.code == 2


def test_heads_that_hold_have_one_line(bundle, check):  # noqa: F811
    lines = check(bundle)[1]
    own = "heads that were signed when an entry came in: each is of that entry"
    assert f"holds     7 {own}" in lines


def test_a_head_that_was_kept_elsewhere_must_fit(bundle, firm, done, check, tmp_path):  # noqa: F811
    kept = tmp_path / "kept.json"
    heads = {row.size: row.head for row in TreeHead.objects.for_firm(firm)}
    kept.write_text(json.dumps(heads[7]))
    code, lines = check(bundle, "--head", kept)
    assert code == 0
    line = f"the head that you kept (7 entries, {heads[7]['at']}), kept by the newest head of this bundle"
    assert f"holds     {line}" in lines
    kept.write_text(json.dumps({**heads[7], "root": heads[6]["root"]}))
    code, lines = check(bundle, "--head", kept)
    assert (code, lines[-1]) == (1, "The bundle does not hold.")
    assert f"{line}: the log was rewritten since: it had other entries then" in fails(lines)
    kept.write_text(json.dumps(heads[3]))
    code, lines = check(bundle, "--head", kept)
    assert (code, lines[-1]) == (3, "Not all could be checked.")


@pytest.mark.parametrize("text", ["{}", "[]", "no JSON", '{"schema": "inclusion-proof/1"}', None])
def test_what_is_no_head_is_bad_input_and_no_fault_of_the_bundle(bundle, check, tmp_path, text):  # noqa: F811
    kept = tmp_path / "kept.json"
    if text is not None:
        kept.write_text(text)
    assert check(bundle, "--head", kept) == (2, [])


def test_what_a_proof_page_gave_out_is_checked_with_its_head(bundle, logged, client, check, tmp_path):  # noqa: F811
    given = client.get(reverse("proof_file", kwargs={"token": logged[3].proof_address.pk})).json()
    path, whose = tmp_path / "proof.json", f"the proof that you gave, of {given['record']['number']} version 2"
    path.write_text(json.dumps(given))
    code, lines = check(bundle, "--head", path)
    assert code == 0
    assert f"holds     {whose}, entry 3" in lines
    assert any(line.startswith("holds     the head that you kept (7 entries") for line in lines)
    for changes in ({"index": 2}, {"leaf": "00" * 32}, {"proof": given["proof"][1:]}):
        path.write_text(json.dumps({**given, **changes}))
        (failing,) = fails(check(bundle, "--head", path)[1])
        assert failing.endswith("the head in it does not hold the record at that place")
    path.write_text(json.dumps({**given, "record": {**given["record"], "digest": "sha256:" + "0" * 64}}))
    code, lines = check(bundle, "--head", path)
    assert code == 3
    gone = "sha256:" + "0" * 64
    means = "the record with that digest is not in this bundle"
    assert f"unproved  the proof that you gave, of {gone}: {means}" in lines


def test_what_a_proof_says_of_its_record_is_held_against_the_record(bundle, logged, client, check, tmp_path):  # noqa: F811
    given = client.get(reverse("proof_file", kwargs={"token": logged[3].proof_address.pk})).json()
    path, whose = tmp_path / "proof.json", f"the proof that you gave, of {given['record']['number']} version 2"
    other = {"number": "2026-0999", "version": 1, "kind": "signed"}
    path.write_text(json.dumps({**given, "record": {**given["record"], **other}}))
    failing = fails(check(bundle, "--head", path)[1])
    means = "the record was signed with another"
    assert failing == [f"{whose}, its {name} {said}: {means}" for name, said in other.items()]
    path.write_text(json.dumps({**given, "received_at": "2026-01-01T00:00:00+00:00"}))
    (failing,) = fails(check(bundle, "--head", path)[1])
    assert failing.startswith(f"{whose}, received_at 2026-01-01T00:00:00+00:00: its signed head says")


def test_a_void_that_a_proof_tells_of_and_is_left_out_is_missed(bundle, logged, client, check, tmp_path):  # noqa: F811
    given = client.get(reverse("proof_file", kwargs={"token": logged[3].proof_address.pk})).json()
    path, whose = tmp_path / "proof.json", f"the proof that you gave, of {given['record']['number']} version 2"
    path.write_text(json.dumps(given))
    told = f"{whose}, which says that version 3, entry 6, made it void"
    assert f"holds     {told}: it is in this bundle" in check(bundle, "--head", path)[1]
    void = f"records/{given['record']['number']}-v3.json"
    (bundle / void).unlink()
    change(bundle, "log.json", lambda log: (log["files"].remove(void), log["entries"].pop()))
    for name in bundle.glob("records/*.json"):
        change(bundle, name.relative_to(bundle), lambda file: file.pop("superseded_by", None))
    assert check(bundle)[0] == 0
    (failing,) = fails(check(bundle, "--head", path)[1])
    assert failing == f"{told}: it is not in this bundle, whose log goes further: it was left out"
    given["later_versions"][0]["index"] = 7
    path.write_text(json.dumps(given))
    code, lines = check(bundle, "--head", path)
    assert code == 3
    means = "it is not in this bundle; ask the firm for one made since"
    assert f"unproved  {told.replace('entry 6', 'entry 7')}: {means}" in lines


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("superseded_by.kind", "superseded_by version 3: that version in this bundle is sha256:"),
        ("schema", "schema: expected record-file/1"),
    ],
)
def test_the_kind_of_a_later_version_and_the_schema_of_a_file_are_looked_at(bundle, check, path, said):  # noqa: F811
    def forge(file):
        part, _, name = path.rpartition(".")
        (file[part] if part else file)[name] = "signed"

    change(bundle, first_record(bundle), forge)
    (failing,) = fails(check(bundle)[1])
    assert f"version 1, {said}" in failing


def test_a_bundle_older_than_the_head_that_was_kept_is_told_apart(bundle, firm, done, member, check, tmp_path):  # noqa: F811
    sign_follow_up(done, Signer(member.user), kind="note", at=AT, detail="rinsed again")
    (tmp_path / "kept.json").write_text(json.dumps(TreeHead.objects.for_firm(firm).get(size=8).head))
    code, lines = check(bundle, "--head", tmp_path / "kept.json")
    assert code == 3
    assert any(line.endswith("this bundle is older; ask the firm for one made since") for line in lines)


def test_without_the_library_for_signatures_the_verdict_is_that_not_all_was_checked(bundle, check, monkeypatch):  # noqa: F811
    monkeypatch.setattr(verify_records, "Ed25519PublicKey", None)
    code, lines = check(bundle)
    assert (code, lines[-1]) == (3, "Not all could be checked (install cryptography).")
    assert fails(lines) == []
    change(bundle, first_record(bundle), lambda file: file["sections"]["site"].update(name="Another house"))
    assert check(bundle)[0] == 1
