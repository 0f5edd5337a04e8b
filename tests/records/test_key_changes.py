"""A key follows another as both have signed, or is refused; a lost one is told apart everywhere."""

import json

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from django.core.management import call_command
from django.urls import reverse

from records.document.key_change import key_change
from records.document.signatures import plain_signature, public_key_text
from records.log_check import look_at_log
from records.models import KeyChange, LogEntry, SigningKey, TreeHead
from records.record_files import record_file
from records.services.follow_ups import sign_follow_up
from records.services.key_changes import change_key, replace_lost_key
from records.services.key_files import key_file
from records.services.keys import key_in_force, signing_key
from records.services.to_sign import Signer
from shared import clock
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.merkle import leaf_hash
from tests.factories import PASSWORD
from tests.records.auditing.entries import entries
from tests.records.logged import AT, by_sql, key_of
from tests.records.test_bundle import change, failing, first_record, run, unpacked


@pytest.fixture
def old_private(logged, firm):
    return signing_key(firm)[1]


@pytest.fixture
def rotated(logged, firm, done, colleague):
    """Seven entries by the old key, the change, and one by the new key; both keys."""
    old = key_in_force(firm)
    new = change_key(firm, colleague.user)
    sign_follow_up(done, Signer(colleague.user), kind="note", at=AT, detail="with the new key")
    return old, new


@pytest.fixture
def lost(logged, firm, done, colleague):
    old = key_in_force(firm)
    key_file(old.digest).unlink()
    new = replace_lost_key(firm)
    sign_follow_up(done, Signer(colleague.user), kind="note", at=AT, detail="with the new key")
    return old, new


def broken(firm) -> set[tuple[str, str]]:
    return {(one.whose, one.fault.wording) for one in look_at_log(firm).broken}


def wordings(firm) -> set[str]:
    return {wording for _whose, wording in broken(firm)}


def state_anew(row: KeyChange, stated: dict) -> None:
    """Put another statement in the place of a change, as who holds the database file can."""
    data = canonical_bytes(stated)
    statement = "UPDATE records_keychange SET record = %s, digest = %s, lost = %s WHERE uuid = %s"
    by_sql(statement, data, digest(data), stated["lost"], key_of(row))
    by_sql("UPDATE records_logentry SET leaf = %s WHERE key_change_id = %s", leaf_hash(data), key_of(row))


def test_a_new_key_signs_from_the_change_on_and_the_log_holds(rotated, firm):
    old, new = rotated
    looked = look_at_log(firm)
    assert (looked.broken, looked.entries, looked.heads) == ([], 9, 9)
    heads = {head.size: head.head["signatures"][0]["key"] for head in TreeHead.objects.for_firm(firm)}
    assert (heads[7], heads[8], heads[9]) == (old.digest, new.digest, new.digest)
    stated = json.loads(bytes(LogEntry.objects.for_firm(firm).get(index=7).key_change.record))
    assert [one["key"] for one in stated["signatures"]] == [old.digest, new.digest]
    assert (stated["replaces"], stated["key"], stated["lost"]) == (old.digest, new.digest, False)


def test_keys_may_change_again_also_with_a_clock_that_was_set_back(rotated, firm, done, colleague):
    with clock.at(AT):
        third = change_key(firm, colleague.user)
    assert key_in_force(firm) == third
    sign_follow_up(done, Signer(colleague.user), kind="note", at=AT, detail="third")
    assert "log/key_not_in_force" not in wordings(firm)


def test_a_firm_that_signed_nothing_gets_its_first_key_and_no_change(firm):
    assert change_key(firm) == key_in_force(firm)
    assert not KeyChange.objects.for_firm(firm).exists()


def test_what_is_signed_with_the_old_key_after_the_change_is_refused(old_private, rotated, firm, done):
    """Who has copied the old key, and the database, signs on with it."""
    row = LogEntry.objects.for_firm(firm).get(index=8).follow_up
    stated = json.loads(bytes(row.record))
    unsigned = {name: value for name, value in stated.items() if name != "signatures"}
    said = {**stated["signatures"][0], **plain_signature(unsigned, old_private)}
    data = canonical_bytes({**unsigned, "signatures": [said]})
    statement = "UPDATE records_signedfollowup SET record = %s, digest = %s WHERE uuid = %s"
    by_sql(statement, data, digest(data), key_of(row))
    by_sql("UPDATE records_logentry SET leaf = %s WHERE follow_up_id = %s", leaf_hash(data), key_of(row))
    assert (f"{done.number} v3, note", "log/key_not_in_force") in broken(firm)


def test_a_key_that_was_put_beside_the_firms_is_refused(logged, firm):
    public = Ed25519PrivateKey.generate().public_key().public_bytes_raw()
    SigningKey.objects.create(firm=firm, digest=digest(public), public=public)
    assert broken(firm) == {("", "log/key_not_introduced")}


def test_a_change_that_the_old_key_did_not_sign_is_refused(rotated, firm):
    old, new = rotated
    row = KeyChange.objects.for_firm(firm).get()
    _, private = signing_key(firm)
    stated = key_change(str(firm.pk), old.digest, AT, private, None)
    unsigned = {**stated, "lost": False}
    del unsigned["signatures"]
    state_anew(row, {**unsigned, "signatures": [plain_signature(unsigned, private)]})
    assert "log/key_change_unsigned" in wordings(firm)
    assert "log/key_not_in_force" in wordings(firm)
    assert new.digest.startswith(
        next(whose for whose, what in broken(firm) if what == "log/key_change_unsigned")
    )


def test_a_change_in_another_firms_log_is_refused(rotated, firm, stranger):
    old, _new = rotated
    row = KeyChange.objects.for_firm(firm).get()
    _, private = signing_key(firm)
    state_anew(row, key_change(str(stranger.firm.pk), old.digest, AT, private, None))
    assert "log/key_change_other" in wordings(firm)


def test_a_change_that_was_taken_out_is_missed(rotated, firm):
    by_sql("DELETE FROM records_logentry WHERE key_change_id IS NOT NULL")
    assert {"log/gap", "log/not_in_log", "log/key_not_in_force"} <= wordings(firm)


def test_a_lost_key_is_followed_and_told_apart(lost, firm, capsys):
    old, new = lost
    with pytest.raises(SystemExit):
        call_command("verify_log")
    said = capsys.readouterr().out
    assert f"KEY LOST  {old.digest}, followed by {new.digest}, entry 7: the old key did not sign" in said
    assert "The log holds." in said


def test_a_change_by_both_is_said_by_the_command(rotated, firm, capsys):
    old, new = rotated
    with pytest.raises(SystemExit):
        call_command("verify_log", "--language", "es")
    said = capsys.readouterr().out
    assert f"clave cambiada  {old.digest} por {new.digest}, entrada 7: firmado por ambas" in said


@pytest.fixture
def bundle(rotated, firm, done, tmp_path):
    return unpacked(firm, done, tmp_path / "bundle")


def test_from_either_key_the_script_follows_the_change(bundle, rotated):
    old, new = rotated
    for key in ([], ["--key", old.digest], ["--key", new.digest]):
        code, said = run(bundle, *key)
        assert code == 0, said
        assert f"holds     key {new.digest}, in force from entry 7 on, signed by old and new key" in said


def test_the_script_refuses_a_change_that_was_signed_by_the_new_key_alone(bundle, rotated):
    old, new = rotated

    def one_signature(log):
        log["key_changes"][0]["statement"]["signatures"].pop(0)

    change(bundle, "log.json", one_signature)
    said = "\n".join(failing(bundle, "--key", old.digest))
    assert f"key {new.digest}: nothing in the log introduces it" in said
    assert "the key in force did not introduce it so" in said
    assert "the newest head of the log" in said


def test_the_script_refuses_a_key_that_was_smuggled_in(bundle, rotated, done):
    private = Ed25519PrivateKey.generate()
    raw = private.public_key().public_bytes_raw()

    def forge(file):
        stated = {name: part for name, part in file["record"].items() if name != "signatures"}
        said = {**file["record"]["signatures"][0], **plain_signature(stated, private)}
        file["record"] = {**stated, "signatures": [said]}

    change(bundle, first_record(bundle), forge)
    change(bundle, "keys.json", lambda file: file["keys"].update({digest(raw): public_key_text(raw)}))
    for key in ([], ["--key", digest(raw)], ["--key", rotated[0].digest]):
        said = "\n".join(failing(bundle, *key))
        assert f"key {digest(raw)}: nothing in the log introduces it" in said
        assert "it was made with a key that is not the firm's" in said


def test_the_script_refuses_a_change_without_its_place_in_the_log(bundle, rotated):
    change(bundle, "log.json", lambda log: log["key_changes"][0].update(index=3))
    assert "the log does not hold these bytes at that place" in "\n".join(failing(bundle))
    change(bundle, "log.json", lambda log: log.pop("key_changes"))
    assert f"key {rotated[0].digest}: nothing in the log introduces it" in failing(bundle)


def test_the_script_follows_no_lost_key_forward_and_says_why(lost, firm, done, tmp_path):
    old, new = lost
    folder = unpacked(firm, done, tmp_path / "bundle")
    said = "\n".join(failing(folder, "--key", old.digest))
    assert f"key {new.digest}: it follows a lost key that did not sign" in said
    code, said = run(folder, "--key", new.digest)
    assert code == 0, said
    assert "signed by the new key alone: the old one was lost" in said


def test_a_manager_makes_a_new_key_with_the_password(client, logged, firm, colleague):
    client.force_login(colleague.user)
    old = key_in_force(firm)
    assert client.post(reverse("new_key"), {"password": "not this one at all"}).status_code == 422
    assert key_in_force(firm) == old
    sent = {"password": PASSWORD, "replaces": old.digest}
    assert f'value="{old.digest}"' in client.get(reverse("new_key")).content.decode()
    page = client.post(reverse("new_key"), sent, follow=True).content.decode()
    new = key_in_force(firm)
    assert new != old
    for digest_ in (old.digest, new.digest):
        assert digest_ in page
    assert "Introduced by the key before it: both have signed, entry 7." in page
    assert {entry.by for entry in entries(firm, thing="records.keychange")} == {colleague.user}


def test_where_the_old_key_is_gone_a_new_one_is_refused_and_the_lost_one_is_named(
    client, lost, firm, colleague
):
    client.force_login(colleague.user)
    page = client.get(reverse("log")).content.decode()
    assert "The old key was lost and did not sign" in page
    key_file(key_in_force(firm).digest).unlink()
    sent = {"password": PASSWORD, "replaces": key_in_force(firm).digest}
    answer = client.post(reverse("new_key"), sent)
    assert answer.status_code == 422
    assert "missing or damaged on this machine" in answer.content.decode()
    assert SigningKey.objects.for_firm(firm).count() == 2


@pytest.mark.parametrize("named", [True, False])
def test_a_new_key_sent_twice_or_for_no_key_is_made_once(client, logged, firm, colleague, named):
    client.force_login(colleague.user)
    sent = {"password": PASSWORD} | ({"replaces": key_in_force(firm).digest} if named else {})
    answers = [client.post(reverse("new_key"), sent) for _time in (1, 2)]
    assert [answer.status_code for answer in answers] == ([302, 422] if named else [422, 422])
    assert "is not in force any more" in answers[1].content.decode()
    assert SigningKey.objects.for_firm(firm).count() == (2 if named else 1)


@pytest.mark.parametrize("role", ["crew", "office", "inspector"])
def test_nobody_else_makes_a_key(client, logged, firm, member, role):
    member.role = role
    member.save()
    client.force_login(member.user)
    assert client.post(reverse("new_key"), {"password": PASSWORD}).status_code == 403
    assert SigningKey.objects.for_firm(firm).count() == 1


def test_the_command_makes_one_and_refuses_what_is_not_there(logged, firm, capsys):
    call_command("change_key", str(firm.pk))
    assert capsys.readouterr().out == f"{firm.name}: {key_in_force(firm).digest}\n"
    key_file(key_in_force(firm).digest).unlink()
    for wanted, code in (("nobody", 2), (str(firm.pk), 1)):
        with pytest.raises(SystemExit) as ended:
            call_command("change_key", wanted)
        assert ended.value.code == code
    assert look_at_log(firm).broken == []


def test_the_proof_page_leads_from_the_records_key_to_the_one_in_force(client, rotated, logged):
    old, new = rotated
    where = {"token": logged[0].proof_address.pk}
    page = client.get(reverse("proof", kwargs=where)).content.decode()
    assert "Followed, as both keys have signed, entry 7, by:" in page
    file = client.get(reverse("proof_file", kwargs=where)).json()
    assert [(one["replaces"], one["key"]) for one in file["key_changes"]] == [(old.digest, new.digest)]


def test_a_record_file_is_verified_from_either_key(rotated, logged, tmp_path, capsys):
    path = tmp_path / "record.json"
    path.write_text(json.dumps(record_file(logged[0])))
    for key in rotated:
        with pytest.raises(SystemExit) as ended:
            call_command("verify_record", str(path), "--key", key.digest)
        assert (ended.value.code, "The record holds." in capsys.readouterr().out) == (0, True)
