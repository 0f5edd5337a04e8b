#!/usr/bin/env python3
"""Check a bundle of treatment records without the service that made it.

    python3 verify_records.py [FOLDER] [--key DIGEST] [--head FILE]

FOLDER is the unpacked bundle (else the folder of this file). --key names the digest (sha256:…) of the firm's
key that you were given by another way: name the newest. From it the changes of key are followed; an old one
does not protect against whoever holds that key, since it may have signed another change. Without --key the keys
that came with the bundle are used, which shows that nothing was changed since it was made, and not who made it.
--head names a signed head of the log (a file) that you kept elsewhere: the log must still keep it.
What a proof page gives out may be named there, too: its proof must hold its record.

Needs Python 3.9 or later. Signatures need the library `cryptography` (pip install cryptography); without it
everything else is checked.

Prints one line for each thing: `holds`, `FAILS` with what that means, `withheld` for a section that the firm
left out, `unproved` for what could not be checked, `stated` for what a file says and nobody signed, `note` for
what you have to look at yourself; a line `record` begins what is said of each version. Exit
code 0: all holds, also where the bundle says that no record is enclosed; 1: something does not; 2: not a
bundle, or nothing in it; 3: not all could be checked.

What is checked, and where it is written down:
  bytes of every file         SHA-256 (FIPS 180-4) against SHA256SUMS, which nobody signed
  a record's sections         SHA-256 over the canonical bytes (RFC 8785) of ["name","salt",section]
  signatures                  Ed25519 (RFC 8032) over the canonical bytes of all but `signatures`
  what a person sealed        ECDSA over P-256 with SHA-256 (FIPS 186-5) by their device's key, over the
  on a device                 canonical bytes of a statement that names the record's document by its digest
  place in the log            Merkle tree of RFC 9162, 2.1: leaf = the canonical bytes of what was signed
  heads of the log            signed; each later one begins with the earlier ones
  when a record came in       in the head that was signed with it; no later entry came in earlier
  changes of the firm's key   signed by the old and the new key, entered in the log; a key counts only where
                              it was in force; `--key` follows them from the key that you trust
  time-stamps of heads        RFC 3161: the token names the head, and a time; `openssl ts` checks who made it
  photos                      SHA-256, as the sections and follow-ups of a record name it
  record sheets               the record in each as data; one signature over the whole file (ISO 32000-1,
                              12.8.1; RFC 5652) with a certificate of the bundle, which it names (RFC 5035)
"""

import argparse
import base64
import hashlib
import json
import re
import sys
import zlib
from datetime import datetime, timedelta
from pathlib import Path

try:
    from cryptography.exceptions import InvalidSignature, UnsupportedAlgorithm
    from cryptography.hazmat.primitives.asymmetric.ec import ECDSA, EllipticCurvePublicKey
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
    from cryptography.hazmat.primitives.asymmetric.padding import PKCS1v15
    from cryptography.hazmat.primitives.asymmetric.rsa import RSAPublicKey
    from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
    from cryptography.hazmat.primitives.hashes import SHA256
    from cryptography.hazmat.primitives.serialization import load_der_public_key
    from cryptography.x509 import load_der_x509_certificate
except ImportError:
    Ed25519PublicKey = None

HOLDS, FAILS, NOT_A_BUNDLE, NOT_ALL_CHECKED = 0, 1, 2, 3
MOST_BYTES, MOST_OF_LOG = 50_000_000, 1_000_000_000
UNCHECKED = "not checked: install the library cryptography"
NO_RECORD = (
    "No record is enclosed: cover-letter.pdf says what the log was searched for, "
    "and nobody signed that with a key."
)
CLOCKS_DIFFER_BY, HEAD_FOLLOWS_WITHIN = timedelta(minutes=5), timedelta(minutes=1)
STAMPED_WITHIN = timedelta(days=2)
SEQUENCE, SET, OCTETS, OF_NAME, TAGGED = 0x30, 0x31, 0x04, 0x06, 0xA0
SIGNED_DATA, PLAIN_DATA = bytes.fromhex("2a864886f70d010702"), bytes.fromhex("2a864886f70d010701")
MEMBERS = {
    "": {"schema", "record", "sections", "salts", "check", "follow_ups", "keys", "key_changes", "entry"}
    | {"superseded_by", "erased", "seal"},
    "entry": {"kind", "reason", "received_at", "proof"},
    "superseded_by": {"version", "digest", "kind"},
    "erased": {"on", "kept_until", "under", "sections"},
    "seal": {"statement", "value", "public", "sent_at", "received_at"},
}
KINDS = {"signed", "corrected", "void"}
LOOKED_AT = r"(log|keys)\.json|(records|sheets|photos|certificates)/.*|time-stamps/\d+\.(tst|json)"
"""What is looked at by more than its checksum, and fails there, or is named, where nothing vouches for it."""
CONTENT_TYPE, MESSAGE_DIGEST = bytes.fromhex("2a864886f70d010903"), bytes.fromhex("2a864886f70d010904")
CERTIFICATE_NAMED = bytes.fromhex("2a864886f70d010910022f")
TIME_STAMP_STATED = bytes.fromhex("2a864886f70d0109100104")
OF_SHA256, ECDSA_WITH_SHA256 = bytes.fromhex("608648016503040201"), bytes.fromhex("2a8648ce3d040302")
RSA_WITH_SHA256 = (bytes.fromhex("2a864886f70d010101"), bytes.fromhex("2a864886f70d01010b"))


class NotABundleError(Exception):
    """What lies there can't be read as a bundle; the message says why."""


class UnsoundError(Exception):
    """A signature of a sheet or a time-stamp does not hold; the message says what that means."""


BROKEN = (NotABundleError, LookupError, TypeError, AttributeError, ValueError, ArithmeticError, OSError)
BROKEN += (RecursionError, zlib.error)
"""What reading damaged data raises."""


def canonical(value):
    """RFC 8785 for what records hold: no numbers but whole ones."""
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    if isinstance(value, int):
        return str(value)
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, list):
        return "[" + ",".join(map(canonical, value)) + "]"
    if isinstance(value, dict):
        names = sorted(value, key=lambda name: name.encode("utf-16-be"))
        return "{" + ",".join(f"{canonical(name)}:{canonical(value[name])}" for name in names) + "}"
    raise NotABundleError(f"{value!r} has no canonical form in a record")


def canonical_bytes(value):
    return canonical(value).encode()


def digest(data):
    return "sha256:" + hashlib.sha256(data).hexdigest()


def leaf_hash(data):
    return hashlib.sha256(b"\x00" + data).digest()


def node_hash(left, right):
    return hashlib.sha256(b"\x01" + left + right).digest()


def includes(leaf, index, size, proof, root):
    """RFC 9162, 2.1.3.2."""
    if not 0 <= index < size:
        return False
    place, last, found = index, size - 1, leaf
    for part in proof:
        if last == 0:
            return False
        if place & 1 or place == last:
            found = node_hash(part, found)
            while not place & 1 and place:
                place, last = place >> 1, last >> 1
        else:
            found = node_hash(found, part)
        place, last = place >> 1, last >> 1
    return last == 0 and found == root


def extends(earlier, earlier_root, size, root, proof):
    """RFC 9162, 2.1.4.2."""
    if not 0 < earlier <= size:
        return False
    if earlier == size:
        return not proof and earlier_root == root
    path = [earlier_root, *proof] if earlier & (earlier - 1) == 0 else list(proof)
    if not path:
        return False
    place, last = earlier - 1, size - 1
    while place & 1:
        place, last = place >> 1, last >> 1
    old = new = path[0]
    for part in path[1:]:
        if last == 0:
            return False
        if place & 1 or place == last:
            old, new = node_hash(part, old), node_hash(part, new)
            while not place & 1 and place:
                place, last = place >> 1, last >> 1
        else:
            new = node_hash(new, part)
        place, last = place >> 1, last >> 1
    return last == 0 and old == earlier_root and new == root


class Report:
    """Prints a line for each thing that was looked at, and remembers what did not hold."""

    def __init__(self):
        self.lines = {"holds": 0, "FAILS": 0, "withheld": 0, "unproved": 0}
        self.failing = []

    def say(self, state, what):
        """One line, whatever stands in what it names; those of no state in `lines` are told and not counted."""
        what = "".join(each if each.isprintable() else repr(each)[1:-1] for each in what)
        if state in self.lines:
            self.lines[state] += 1
        if state == "FAILS":
            self.failing.append(what)
        print(f"{state:<8}  {what}")

    def judge(self, holds, what, means):
        """A line that holds, or that fails with what this means; None: it can't be told here."""
        state = "unproved" if holds is None else "holds" if holds else "FAILS"
        self.report_with(state, what, means)
        return holds

    def report_with(self, state, what, means):
        self.say(state, what if state == "holds" else f"{what}: {means}")


class Bundle:
    """An unpacked bundle: its files, the firm's keys by digest, and the newest head of the log."""

    def __init__(self, folder, trusted):
        self.folder = folder
        self.trusted = trusted
        self.report = Report()
        self.log = self.read("log.json")
        if self.log.get("schema") != "log-proof/1":
            raise NotABundleError("log.json is not what a bundle has there")
        newest = self.log.get("head")
        self.newest = newest if isinstance(newest, dict) else {}
        self.keys, self.chain, self.firms, self.old_signed = {}, [], set(), []
        self.entries, self.met, self.placed, self.came_in = {}, set(), set(), []
        self.own_heads = {"holds": set(), "unproved": set()}
        self.versions, self.digests, self.names, self.erasures = {}, {}, [], {}
        self.kept_heads, self.certificates, self.shown_in_photos, self.signed = {}, {}, set(), {}

    def read(self, name):
        path = self.inside(name)
        try:
            most = MOST_OF_LOG if name == "log.json" else MOST_BYTES
            if path.stat().st_size > most:
                raise NotABundleError(f"{name} is larger than {most} bytes")
            found = json.loads(path.read_bytes(), object_pairs_hook=once_each)
        except OSError as error:
            raise NotABundleError(f"{name} can't be read: {error.strerror}") from error
        except (ValueError, RecursionError) as error:
            raise NotABundleError(f"{name} is damaged, it is no JSON any more: {error}") from error
        if not isinstance(found, dict):
            raise NotABundleError(f"{name} is no JSON object")
        return found

    def inside(self, name):
        path = (self.folder / name).resolve()
        if self.folder.resolve() not in path.parents:
            raise NotABundleError(f"{name} does not lie in the bundle")
        return path

    def there(self, under="."):
        """The names of all files in the bundle, or under one of its folders."""
        found = (self.folder / under).rglob("*")
        return {path.relative_to(self.folder).as_posix() for path in found if path.is_file()}

    def guarded(self, what, check, *given):
        """What is damaged fails by its name, and the check goes on."""
        try:
            return check(*given)
        except BROKEN as error:
            why = str(error) if isinstance(error, NotABundleError) else f"{type(error).__name__} {error}"
            self.report.say("FAILS", f"{what}: it is damaged and can't be checked ({why})")
            return None

    def check(self):
        self.guarded("SHA256SUMS", self.checksums)
        self.guarded("keys.json", self.key_digests)
        self.guarded("log.json, its changes of key", self.key_chain)
        self.guarded("log.json, its entries", self.read_entries)
        self.guarded("the newest head of the log", self.newest_head)
        self.guarded("log.json, its earlier heads", self.earlier_heads)
        self.guarded("time-stamps", self.time_stamps)
        self.guarded("log.json, its files", self.files)
        self.guarded("log.json, its erasures", self.signed_erasures)
        for name in self.names:
            self.guarded(name, self.note_version, self.read_quietly(name))
        for name in self.names:
            self.guarded(name, self.record, name)
        for left in sorted(self.entries.keys() - self.met):
            index = self.entries[left].get("index")
            self.report.say("FAILS", f"entry {index}: what was signed there was taken out")
        self.counted(self.own_heads, "heads that were signed when an entry came in: each is of that entry")
        self.guarded("when entries came in", self.clock)
        self.guarded("photos", self.strange_photos)
        for name in sorted(self.there("certificates")):
            self.guarded(name, self.certificate, name)
        for name in sorted(self.there("sheets")):
            self.guarded(name, self.sheet, name)

    def checksums(self):
        listed = {}
        for line in self.inside("SHA256SUMS").read_text(encoding="utf-8").splitlines():
            hashed, _, name = line.partition("  ")
            listed[name] = hashed
        for name in sorted(listed):
            self.guarded(f"{name}, its checksum", self.checksum, name, listed[name])
            if not re.fullmatch(LOOKED_AT, name):
                self.report.say("note", f"{name}: nobody signed for it, and nothing else vouches for it")
        for name in sorted(self.there() - listed.keys() - {"SHA256SUMS"}):
            self.report.say("note", f"{name}: SHA256SUMS does not name it, and nobody vouches for it")

    def checksum(self, name, hashed):
        path = self.inside(name)
        found = hash_of(path) if path.is_file() else None
        means = "the file is gone" if found is None else "the file was changed since the bundle was made"
        self.report.judge(found == hashed, f"{name}, its checksum, which nobody signed", means)

    def key_digests(self):
        keys = self.read("keys.json").get("keys")
        if not isinstance(keys, dict):
            raise NotABundleError("it names no keys")
        for name, text in sorted(keys.items()):
            self.guarded(f"key {name}", self.key_digest, name, text)
        if self.trusted and self.trusted not in self.keys:
            means = "it is not among the bundle's keys, so this is another firm's"
            self.report.say("FAILS", f"key {self.trusted}: {means}")

    def key_digest(self, name, text):
        holds = digest(unpadded(text)) == name
        self.keys[name] = text
        self.report.judge(holds, f"key {name}", "this is not the key of that digest")

    def key_chain(self):
        """The keys one after another, each with the index of the log from which on it is in force."""
        steps = self.log.get("key_changes") or []
        signed_with = (self.newest.get("signatures") or [{}])[0].get("key")
        self.chain = [(0, steps[0]["statement"]["replaces"] if steps else signed_with)]
        for place, step in enumerate(steps):
            self.guarded(f"change of key {place + 1}", self.key_change, step)
        for name in sorted(self.keys.keys() - {key for _index, key in self.chain}):
            self.report.say("FAILS", f"key {name}: nothing in the log introduces it")
        self.firms = self.followed()

    def key_change(self, step):
        """The key in force introduces another and both sign; where it was lost, the new one says so alone."""
        stated, index, head = step["statement"], step["index"], self.newest
        since, old = self.chain[-1]
        what, data = f"key {stated['key']}, in force from entry {index} on", canonical_bytes(stated)
        later = index > since or len(self.chain) == 1
        placed = later and self.included(data, index, step["proof"])
        self.report.judge(placed, f"{what}, its change", "the log does not hold these bytes at that place")
        signed, lost = stated.get("signatures") or [], stated.get("lost") is True
        expected = ("key-change/1", head["log"], old, self.keys.get(stated["key"]))
        fits = (stated["schema"], stated["log"], stated["replaces"], stated["public"]) == expected
        by_both = [one.get("key") for one in signed] == ([] if lost else [old]) + [stated["key"]]
        how = "signed by the new key alone: the old one was lost" if lost else "signed by old and new key"
        holds, means = self.all_verified(signed, covered_by(stated))
        if not (fits and by_both):
            holds, means = False, means or "the key in force did not introduce it so"
        self.report.judge(holds, f"{what}, {how}", means)
        if placed and holds is not False:
            self.chain.append((index, stated["key"]))
            self.old_signed.append(not lost)

    def followed(self):
        """The keys that count: all, or those that changes lead to from the one that is trusted. Each key
        vouches for the one before it, and for the one after it where it has signed the change."""
        names = [key for _index, key in self.chain]
        if not self.trusted:
            return set(names)
        if self.trusted not in names:
            return set()
        place = names.index(self.trusted)
        found = names[: place + 1]
        for later in range(place + 1, len(names)):
            if not self.old_signed[later - 1]:
                means = "it follows a lost key that did not sign; ask the firm for this digest by another way"
                self.report.say("FAILS", f"key {names[later]}: {means}")
                break
            found.append(names[later])
        return set(found)

    def in_force(self, index):
        return [key for since, key in self.chain if since <= index][-1]

    def read_entries(self):
        for place, entry in enumerate(self.log["entries"]):
            self.guarded(f"log.json, entry {place + 1} of its list", self.read_entry, entry)

    def read_entry(self, entry):
        self.entries[str(entry["digest"])] = entry

    def included(self, data, index, proof):
        """Whether the newest head has these bytes at that place."""
        parts = [bytes.fromhex(part) for part in proof]
        found = includes(leaf_hash(data), index, self.newest["size"], parts, root_of(self.newest))
        if found:
            self.placed.add(index)
        return found

    def newest_head(self):
        size, at = self.newest["size"], self.newest["at"]
        self.signatures(self.newest, f"the newest head of the log ({size} entries, {at})", size - 1)
        self.kept_heads[size] = self.newest

    def earlier_heads(self):
        found = {"holds": set(), "unproved": set()}
        for place, step in enumerate(self.log.get("earlier") or []):
            state = self.guarded(f"earlier head {place + 1}", self.earlier_head, step)
            if state in found:
                found[state].add(place)
        self.counted(found, "earlier heads of the log: signed, and kept by the newest head")

    def earlier_head(self, step):
        """FAILS has its line; the others are counted."""
        head, newest = step["head"], self.newest
        what = f"the head of {head['size']} entries"
        proof = [bytes.fromhex(part) for part in step["proof"]]
        same = head["log"] == newest["log"]
        kept = same and extends(head["size"], root_of(head), newest["size"], root_of(newest), proof)
        if not kept:
            means = "the log was rewritten since: entries were changed or taken out"
            self.report.say("FAILS", f"{what}, kept by the newest head: {means}")
        state = self.signed_head(head, f"{what} ({head['at']})")
        if kept and state != "FAILS":
            self.kept_heads[head["size"]] = head
        return state if kept else "FAILS"

    def signed_head(self, head, what):
        state, means = self.head_state(head)
        if state == "FAILS":
            self.report.say("FAILS", f"{what}, its signature: {means}")
        return state

    def head_state(self, head):
        made = head.get("signatures") or []
        judged = [self.signature(one, covered_by(head), head["size"] - 1) for one in made]
        wrong = [means for holds, means in judged if holds is False]
        if wrong or not made:
            return "FAILS", wrong[0] if wrong else "this is not signed"
        return "unproved" if any(holds is None for holds, _means in judged) else "holds", ""

    def counted(self, found, what):
        """One line for all that hold."""
        for state in ("holds", "unproved"):
            if found[state]:
                self.report.report_with(state, f"{len(found[state])} {what}", UNCHECKED)

    def time_stamps(self):
        for name in sorted(self.there("time-stamps")):
            if name.endswith(".tst"):
                self.guarded(name, self.time_stamp, name)

    def time_stamp(self, name):
        """What a token says of a head, and when; who made the token is for `openssl ts`."""
        token = self.inside(name)
        size = int(token.stem) if token.stem.isdecimal() else 0
        what, head = f"{name}: of the head of {size} entries", self.stated_heads().get(size)
        data, stamped = canonical_bytes(head), token.with_suffix(".json")
        try:
            hashed, at = stamp_in(token.read_bytes())
        except BROKEN:
            self.report.say("FAILS", f"{what}: this is no time-stamp")
            return
        same = stamped.is_file() and stamped.read_bytes() == data
        holds = same and hashed == hashlib.sha256(data).digest()
        what = f"{what}, stamped at {at.isoformat()} as it says itself (its signature: see README.txt)"
        if self.report.judge(holds, what, "it is of something else than the log's head"):
            self.stamped_when(f"{name}: of the head of {size} entries", head, at)

    def stamped_when(self, what, head, at):
        """A head can't be stamped before it is signed; one that is stamped late shows less."""
        after = at - datetime.fromisoformat(head["at"])
        if after < -CLOCKS_DIFFER_BY:
            self.report.say("FAILS", f"{what}: it was stamped at {at}, and the head says {head['at']}, later")
        elif after > STAMPED_WITHIN:
            means = "until then nobody outside has seen the log so"
            self.report.say("note", f"{what}: stamped {after.days} days after it was signed; {means}")

    def stated_heads(self):
        heads = [self.newest, *(step.get("head") for step in self.log.get("earlier") or [])]
        return {head["size"]: head for head in heads if isinstance(head, dict) and "size" in head}

    def files(self):
        """The records that the log lists; what else lies among them has nothing that vouches for it."""
        listed = [str(name) for name in self.log.get("files") or []]
        self.names = sorted(set(listed), key=listed.index)
        for name in self.names:
            if listed.count(name) > 1:
                self.report.say("FAILS", f"{name}: the log lists it twice")
        if self.is_said_to_be_empty() and (self.names or self.entries):
            means = "there are records or entries of them all the same"
            self.report.say("FAILS", f"log.json, no_record: it says that none is enclosed, and {means}")
        for name in sorted(self.there("records") - set(listed)):
            means = "it lies in the bundle and is in no log entry: nothing vouches for it"
            self.report.say("FAILS", f"{name}: {means}")

    def is_said_to_be_empty(self):
        """Whether the bundle answers that nothing fits, and holds no record for that; nobody signed this."""
        return self.log.get("no_record") is True

    def read_quietly(self, name):
        """The file; what can't be read fails when its record is looked at."""
        try:
            return self.read(name)
        except BROKEN:
            return {}

    def note_version(self, file):
        """What versions of each record are here, and which of them say that it is void."""
        record = file.get("record")
        stated = record.get("record") if isinstance(record, dict) else None
        if isinstance(stated, dict) and isinstance(stated.get("version"), int):
            data = canonical_bytes(record)
            self.signed[digest(data)] = record
            self.digests[str(stated.get("id")), stated["version"]] = digest(data)
            held = self.versions.setdefault(str(stated.get("id")), {})
            held[stated.get("version")] = any(one.get("meaning") == "void" for one in record["signatures"])

    def fate(self, file):
        """What is known here of what became of this version."""
        stated = file["record"]["record"]
        own = stated["version"]
        here = self.versions.get(str(stated.get("id")), {})
        later = sorted(version for version in here if version > own)
        said = [f"superseded by version {later[-1]}, which is in this bundle"] if later else []
        said += [f"void: version {version} says so" for version in (own, *later) if here.get(version)][:1]
        stated_later = (file.get("superseded_by") or {}).get("version")
        if stated_later and stated_later not in here:
            said.append(f"superseded by version {stated_later}, which is not in this bundle")
        return said

    def record(self, name):
        file = self.read(name)
        record, stated = file["record"], file["record"]["record"]
        number, version = stated.get("number"), stated.get("version")
        whose = f"{number} version {version}"
        came_in = self.came_in_at(record)
        line = [f"{whose}, {digest(canonical_bytes(record))}", *self.fate(file)]
        when = f"came in at {came_in.isoformat()} (signed head)" if came_in else "when it came in is unproved"
        line.append(when)
        self.report.say("record", ", ".join(line + self.proof_page(file)))
        if name != f"records/{number}-v{version}.json":
            self.report.say("FAILS", f"{name}: its name is not that of what it holds, {whose}")
        self.guarded(f"{whose}, its signatures", self.signatures, record, whose, self.index_of(record))
        self.guarded(f"{whose}, its sections", self.sections, file, whose)
        self.guarded(f"{whose}, what was sealed on a device", self.seal, file, whose)
        self.guarded(f"{whose}, its place in the log", self.entered, record, whose)
        self.guarded(f"{whose}, what the file states", self.stated, file, whose, came_in)
        follow_ups = file.get("follow_ups") or []
        for place, follow_up in enumerate(follow_ups):
            what = f"{whose}, follow-up {place + 1}"
            self.guarded(what, self.follow_up, follow_up, stated, what)
            if follow_up in follow_ups[:place]:
                self.report.say("FAILS", f"{what}: it stands there twice")
        self.guarded(f"{whose}, its photos", self.photos, file, whose)

    def stated(self, file, whose, came_in):
        """What stands beside what was signed agrees with it, or is called stated."""
        for part, members in MEMBERS.items():
            for name in sorted((file.get(part) or {} if part else file).keys() - members):
                self.report.say("FAILS", f"{whose}, {part and part + '.'}{name}: there is no such member")
        for of, part, schema in (
            ("", file, "record-file/1"),
            ("record.", file["record"], "signed-record/1"),
            *(("follow_ups.", one, "follow-up/1") for one in file.get("follow_ups") or []),
        ):
            if part.get("schema") != schema:
                self.report.say("FAILS", f"{whose}, {of}schema: expected {schema}")
        self.as_entered(file, file.get("entry") or {}, whose, came_in)
        self.later(file, whose)
        self.check_kept(file, whose)
        self.its_keys(file, whose)
        self.said_to_be_erased(file, whose)
        for part, names in (("entry", ("proof",)), ("seal", ("sent_at", "received_at"))):
            for name in names:
                if (file.get(part) or {}).get(name):
                    self.report.say("stated", f"{whose}, {part}.{name} {file[part][name]}")

    def as_entered(self, file, entry, whose, came_in):
        record = file["record"]
        if "kind" in entry and entry["kind"] not in kinds_of(record):
            self.report.say("FAILS", f"{whose}, entry.kind {entry['kind']}: it was signed as something else")
        if "reason" in entry and entry["reason"] != record["record"].get("reason"):
            self.report.say("FAILS", f"{whose}, entry.reason: another reason was signed")
        if "received_at" not in entry:
            return
        what = f"{whose}, entry.received_at {entry['received_at']}"
        if came_in is None:
            self.report.say("stated", what)
        else:
            off = abs(datetime.fromisoformat(entry["received_at"]) - came_in)
            means = f"the head that was signed when it came in says {came_in.isoformat()}"
            self.report.judge(off <= HEAD_FOLLOWS_WITHIN, what, means)

    def later(self, file, whose):
        """Which version is said to have taken its place."""
        stated, own = file.get("superseded_by"), file["record"]["record"]
        if not stated:
            return
        what = f"{whose}, superseded_by version {stated.get('version')}"
        here = self.digests.get((str(own.get("id")), stated.get("version")))
        if not isinstance(stated.get("version"), int) or stated["version"] <= own["version"]:
            self.report.say("FAILS", f"{what}: that is no later version")
        elif here:
            kinds = kinds_of(self.signed[here])
            same = stated.get("digest") == here and ("kind" not in stated or stated["kind"] in kinds)
            kind = ", ".join(sorted(kinds))
            self.report.judge(same, what, f"that version in this bundle is {here}, signed as {kind}")
        else:
            self.report.say("stated", what)

    def said_to_be_erased(self, file, whose):
        """What is erased is not here, and the file says no other day or term than the signed entry."""
        said = file.get("erased") or {}
        for name in said.get("sections") or []:
            if name in file["sections"]:
                self.report.say("FAILS", f"{whose}, {name}: it is said to be erased, and is here")
        signed = self.erasures.get(file["record"]["record"].get("id")) or {}
        for name in ("on", "kept_until", "under") if signed else ():
            if name in said and said[name] != signed[name]:
                self.report.say("FAILS", f"{whose}, erased.{name}: the signed entry of the log says otherwise")

    def check_kept(self, file, whose):
        bound = (file["record"].get("check") or {}).get("digest")
        if file.get("check") is not None:
            same = bound == digest(canonical_bytes(file["check"]))
            self.report.judge(same, f"{whose}, check", "this is not the check that was signed")
        elif bound:
            self.report.say("withheld", f"{whose}, check by the rules")

    def its_keys(self, file, whose):
        """A record file may bring keys: those of the bundle, which the log introduces, and no other."""
        for name, text in sorted((file.get("keys") or {}).items()):
            if self.keys.get(name) != text:
                self.report.say("FAILS", f"{whose}, key {name}: it is not among the bundle's keys")
        known = [step.get("statement") for step in self.log.get("key_changes") or []]
        for change in file.get("key_changes") or []:
            if change not in known:
                self.report.say("FAILS", f"{whose}, a change of key: it is not among those of the log")

    def came_in_at(self, signed):
        """When it came in, by the head that was signed with it; None where no such head holds."""
        try:
            entry = self.entries[digest(canonical_bytes(signed))]
            own = entry["head"]
            fits = (own["log"], own["size"]) == (self.newest["log"], entry["index"] + 1)
            return datetime.fromisoformat(own["at"]) if fits and self.head_state(own)[0] != "FAILS" else None
        except BROKEN:
            return None

    def proof_page(self, file):
        pages, token = self.log.get("proof_pages"), (file.get("entry") or {}).get("proof")
        return [f"proof page {pages}{token}/"] if pages and token else []

    def follow_up(self, follow_up, stated, what):
        what = f"{what} ({follow_up.get('kind')})"
        follows = (follow_up.get("follows") or {}).get("id") == stated.get("id")
        self.report.judge(follows, f"{what}, the record that it follows", "it follows another record")
        self.guarded(f"{what}, its signatures", self.signatures, follow_up, what, self.index_of(follow_up))
        self.guarded(f"{what}, its place in the log", self.entered, follow_up, what)

    def sections(self, file, whose):
        bound = file["record"]["sections"]
        for name in sorted(bound):
            self.guarded(f"{whose}, {name}", self.section, file, name, whose)
        for name in sorted(file["sections"].keys() - bound.keys()):
            self.report.say("FAILS", f"{whose}, {name}: the record does not bind this section")

    def section(self, file, name, whose):
        if name not in file["sections"]:
            self.left_out(file, name, whose)
            return
        salted = canonical_bytes([name, file["salts"].get(name), file["sections"][name]])
        same = digest(salted) == file["record"]["sections"][name]
        self.report.judge(same, f"{whose}, {name}", "this is not what was signed")

    def left_out(self, file, name, whose):
        """A section is withheld, or erased as a signed entry of the log says."""
        said = file.get("erased") or {}
        if name not in said.get("sections", []):
            self.report.say("withheld", f"{whose}, {name}")
            return
        signed = self.erasures.get(file["record"]["record"].get("id")) or {}
        if name in signed.get("sections", []):
            term = f"under {', '.join(signed['under'])}, kept until {signed['kept_until']}"
            self.report.say("withheld", f"{whose}, {name}: erased on {signed['on']} {term}")
        else:
            means = "it is said to be erased, and no signed entry of the log says so"
            self.report.say("FAILS", f"{whose}, {name}: {means}")

    def signed_erasures(self):
        for step in self.log.get("erasures") or []:
            self.guarded("an erasure in the log", self.signed_erasure, step)

    def signed_erasure(self, step):
        """It is an entry of this log, signed with the key in force there, and the term was over."""
        stated, index = step["statement"], step["index"]
        what, data = f"erasure, entry {index}, of {stated['treatment']}", canonical_bytes(stated)
        placed = self.included(data, index, step["proof"])
        self.report.judge(placed, f"{what}, its place", "the log does not hold these bytes at that place")
        fits = (stated["schema"], stated["log"]) == ("erasure/1", self.newest["log"])
        self.report.judge(fits, f"{what}, as an erasure of this log", "it is of another log, or no erasure")
        over = datetime.fromisoformat(stated["on"]) > datetime.fromisoformat(stated["kept_until"])
        self.report.judge(over, f"{what}, after its term", "it was erased within the term that it states")
        self.signatures(stated, what, index)
        if placed and fits and over:
            self.erasures[stated["treatment"]] = stated

    def seal(self, file, whose):
        if "seal" not in file:
            return
        seal, record = file["seal"], file["record"]
        stated, what = seal["statement"], f"{whose}, sealed on a device by {seal['statement'].get('by')}"
        names = [one.get("by") for one in record["signatures"]]
        named = stated.get("treatment") == record["record"].get("id") and stated.get("by") in names
        if not named:
            self.report.say("FAILS", f"{what}: it names another record, or another person")
        elif record["sections"].keys() == file["sections"].keys():
            document = {"schema": "treatment-document/1", **file["sections"], "record": record["record"]}
            same = stated.get("document") == digest(canonical_bytes(document))
            self.report.judge(same, f"{what}, the document", "another document was sealed")
        else:
            self.report.say("withheld", f"{what}, the document: not all of its sections are here")
        whose_key = "by the key that the file states; nothing in this bundle ties it to the person"
        holds = None if Ed25519PublicKey is None else sealed(seal)
        means = UNCHECKED if holds is None else "what was sealed, or the seal, was changed"
        self.report.judge(holds, f"{what}, {stated.get('claimed_at')}, the seal, {whose_key}", means)

    def entered(self, signed, whose):
        data = canonical_bytes(signed)
        entry = self.entries.get(digest(data))
        self.met.add(digest(data))
        if entry is None:
            self.report.say("FAILS", f"{whose}, its place in the log: it is not among the bundle's entries")
            return
        holds = self.included(data, entry["index"], entry["proof"])
        means = "the log does not hold these bytes at that place"
        self.report.judge(holds, f"{whose}, entered in the log at {entry['index']}", means)
        what = f"{whose}, the head that was signed when it came in"
        if "head" in entry:
            self.guarded(what, self.own_head, entry, what, whose)
        else:
            self.report.say("unproved", f"{what}: it is not in this bundle, so nothing shows when that was")

    def own_head(self, entry, what, whose):
        """The head that was signed when the entry came in says when that was."""
        own = entry["head"]
        state = self.signed_head(own, f"{what} ({own['at']})")
        if own["log"] != self.newest["log"] or own["size"] != entry["index"] + 1:
            self.report.say("FAILS", f"{what}: it is of another entry")
            state = "FAILS"
        if state in self.own_heads:
            self.own_heads[state].add(own["size"])
        self.came_in.append((own["size"], datetime.fromisoformat(own["at"]), whose))

    def clock(self):
        """Heads of later entries are not signed earlier."""
        latest = None
        for _size, at, whose in sorted(self.came_in):
            if latest and at < latest:
                means = f"it came in at {at}, after something that came in at {latest}: the clock was set back"
                self.report.say("FAILS", f"{whose}, when it came in: {means}")
            latest = max(latest or at, at)

    def index_of(self, signed):
        return self.entries.get(digest(canonical_bytes(signed)), {}).get("index")

    def signatures(self, signed, whose, index):
        made = signed.get("signatures") or []
        if not made:
            self.report.say("FAILS", f"{whose}: this is not signed")
        for one in made:
            by = f"{one['by']}, {one.get('role')}, {one.get('meaning')}" if "by" in one else "the service"
            holds, means = self.signature(one, covered_by(signed), index)
            self.report.judge(holds, f"{whose}, signature by {by}", means)

    def signature(self, one, covered, index):
        if one.get("key") not in self.firms:
            return False, "it was made with a key that is not the firm's"
        if index is not None and one["key"] != self.in_force(index):
            return False, "it was made with a key that was not in force at its place in the log"
        return self.verified(one, covered)

    def all_verified(self, signed, covered):
        """Fails with the first that fails."""
        judged = [self.verified(one, covered) for one in signed]
        worst = [each for each in judged if each[0] is False] + [each for each in judged if each[0] is None]
        return worst[0] if worst else (True, "")

    def verified(self, one, covered):
        if one.get("algorithm") != "Ed25519":
            return False, "expected Ed25519"
        if Ed25519PublicKey is None:
            return None, UNCHECKED
        try:
            key = Ed25519PublicKey.from_public_bytes(unpadded(self.keys[one["key"]]))
            key.verify(unpadded(one["value"]), covered)
        except (InvalidSignature, ValueError):
            return False, "what was signed, or the signature, was changed"
        return True, ""

    def photos(self, file, whose):
        """The pictures that the record names by the digests of their bytes, where they are in the bundle."""
        for named in sorted(evidence_in(file)):
            found = sorted(name for name in self.there("photos") if Path(name).stem == named)
            self.shown_in_photos.update(found)
            for name in found:
                same = hash_of(self.inside(name)) == named
                self.report.judge(same, f"{whose}, {name}", "this is not the picture that the record names")
            if not found:
                self.report.say("withheld", f"{whose}, photo {named}")

    def strange_photos(self):
        for name in sorted(self.there("photos") - self.shown_in_photos):
            self.report.say("FAILS", f"{name}: no record in this bundle names it")

    def certificate(self, name):
        text = self.inside(name).read_text(encoding="utf-8")
        body = re.search("-----BEGIN CERTIFICATE-----(.*?)-----END CERTIFICATE-----", text, re.DOTALL).group(1)
        data = base64.b64decode("".join(body.split()), validate=True)
        self.certificates[digest(data)] = data
        asks = "nobody signed that it is the firm's: compare it with the one they gave you by another way"
        self.report.say("note", f"{name}: {digest(data)}, {asks}")

    def sheet(self, name):
        """The data in it, and the signature over all of it."""
        beside = re.sub(r"^sheets/(.+)-[a-z]+\.pdf$", r"records/\1.json", name)
        if beside not in self.names:
            self.report.say("FAILS", f"{name}: the record that it is of is not in this bundle")
            return
        pdf, file = self.inside(name).read_bytes(), self.read(beside)
        held = attached_to(pdf)
        same = len(held) == 1 and held[0] in forms_of(file)
        means = "they are not the record in this bundle"
        self.report.judge(same, f"{name}, the data in it, byte for byte the record in this bundle", means)
        self.guarded(f"{name}, its signature", self.sheet_signature, pdf, name)
        asks = "that they say what the data say was not looked at: read them beside the record"
        self.report.say("note", f"{name}, its printed pages: {asks}")

    def sheet_signature(self, pdf, name):
        try:
            certificate, holds, means = signed_as_a_whole(pdf, self.certificates)
        except UnsoundError as error:
            self.report.say("FAILS", f"{name}, its signature: {error}")
            return
        self.report.judge(holds, f"{name}, signed as a whole with the certificate {certificate}", means)

    def given_proof(self, proof):
        """What a proof page gave out: the head in it has the record there. Nobody signed the file itself, so
        number and version are those of the record with that digest; what it tells of later is looked for."""
        named, head = proof["record"], proof["head"]
        record = self.signed.get(named["digest"])
        if record is None:
            means = "the record with that digest is not in this bundle"
            self.report.say("unproved", f"the proof that you gave, of {named['digest']}: {means}")
            return
        stated, leaf = record["record"], leaf_hash(canonical_bytes(record))
        what = f"the proof that you gave, of {stated.get('number')} version {stated.get('version')}"
        self.proof_words(proof, record, what)
        for state, later in (("later_versions", "version"), ("follow_ups", "follow-up")):
            for one in proof.get(state) or []:
                self.guarded(f"{what}, a later {later}", self.told_later, one, what, later)
        parts = [bytes.fromhex(part) for part in proof["proof"]]
        placed = includes(leaf, proof["index"], head["size"], parts, root_of(head))
        means = "the head in it does not hold the record at that place"
        self.report.judge(placed and proof["leaf"] == leaf.hex(), f"{what}, entry {proof['index']}", means)

    def proof_words(self, proof, record, what):
        """What the file says of the record agrees with it, or is called stated."""
        for name in ("number", "version", "kind"):
            said = proof["record"].get(name)
            signed = kinds_of(record) if name == "kind" else {record["record"].get(name)}
            if said not in signed:
                self.report.say("FAILS", f"{what}, its {name} {said}: the record was signed with another")
        self.report.say("stated", f"{what}, its keys and changes of key, which are not used here")
        came_in, said = self.came_in_at(record), proof.get("received_at")
        off = came_in and said and abs(datetime.fromisoformat(said) - came_in)
        if off and off > HEAD_FOLLOWS_WITHIN:
            self.report.say("FAILS", f"{what}, received_at {said}: its signed head says {came_in.isoformat()}")
        elif said and not came_in:
            self.report.say("stated", f"{what}, received_at {said}")

    def told_later(self, one, what, kind):
        """A later version or follow-up that a proof page told of: it is here, or this bundle is not whole."""
        void = one.get("kind") == "void"
        told = f"version {one['version']}" if kind == "version" else "a follow-up"
        told += f", entry {one.get('index')}" + (", made it void" if void else "")
        if one["digest"] in self.met:
            entry, record = self.entries[one["digest"]], self.signed.get(one["digest"])
            fits = entry["index"] == one.get("index") and (record is None or self.is_told(one, record))
            means = "what is in this bundle under that digest is another version, kind or entry"
            self.report.judge(fits, f"{what}, which says that {told}: it is in this bundle", means)
        elif type(one.get("index")) is int and one["index"] < self.newest["size"]:
            means = "it is not in this bundle, whose log goes further: it was left out"
            self.report.say("FAILS", f"{what}, which says that {told}: {means}")
        else:
            means = "it is not in this bundle; ask the firm for one made since"
            self.report.say("unproved", f"{what}, which says that {told}: {means}")

    def is_told(self, one, record):
        return record["record"].get("version") == one.get("version") and one.get("kind") in kinds_of(record)

    def kept_head(self, kept):
        """A head that was kept elsewhere: the log has not been rewritten since, as far as the bundle shows."""
        size = kept["size"]
        what = f"the head that you kept ({size} entries, {kept['at']})"
        self.signatures(kept, what, size - 1 if size <= self.newest["size"] else None)
        if kept["log"] != self.newest["log"]:
            self.report.say("FAILS", f"{what}: it is of another log")
        elif size > self.newest["size"]:
            self.report.say("unproved", f"{what}: this bundle is older; ask the firm for one made since")
        elif size in self.kept_heads:
            same = kept["root"] == self.kept_heads[size]["root"]
            means = "the log was rewritten since: it had other entries then"
            self.report.judge(same, f"{what}, kept by the newest head of this bundle", means)
        else:
            means = "this bundle has no proof that leads from it to its newest head; the firm can give one"
            self.report.say("unproved", f"{what}: {means}")

    def shown(self):
        """How much of the log is here, of what day, and what may be beyond it."""
        whole, shown = self.newest.get("size"), len(self.placed)
        yield (
            f"The log as this bundle has it ends at {self.newest.get('at')}, when its last entry came in; the "
            "bundle was made then or later. What came in after that entry is not in it."
        )
        if self.is_said_to_be_empty():
            yield f"The log has {whole} entries; what they are this bundle does not show."
        elif shown == whole:
            yield f"It shows all {whole} entries of the log, no gap."
        else:
            yield (
                f"It shows {shown} of {whole} entries of the log; a later version, a void or a follow-up may "
                "exist beyond it: see the proof page of each record (the code on its record sheet leads there)."
            )


def read_head(path):
    """The signed head in a file, and the proof that a proof page gave out with it, else None.

    Raises NotABundleError."""
    try:
        found = json.loads(path.read_bytes(), object_pairs_hook=once_each)
        proof = found if found.get("schema") == "inclusion-proof/1" else None
        head = proof["head"] if proof else found
        if head["schema"] != "tree-head/1" or type(head["size"]) is not int:
            raise ValueError("it is of another kind")
        datetime.fromisoformat(head["at"])
        root_of(head)
    except BROKEN as error:
        means = "it is neither a signed head of a log nor what a proof page gives out"
        raise NotABundleError(f"{path}: {means} ({error})") from error
    return head, proof


def evidence_in(file):
    """The digests of the pictures that its sections and follow-ups name."""
    sections = [file["sections"].get(name) or [] for name in ("protection", "incidents")]
    shown = [item for section in sections for item in section] + (file.get("follow_ups") or [])
    return {each["sha256"] for item in shown for each in item.get("evidence") or [] if each.get("sha256")}


def attached_to(pdf):
    """The files that lie in a PDF and say so."""
    found = []
    for each in re.finditer(rb"/Type\s*/EmbeddedFile\b.*?>>\s*stream\r?\n", pdf, re.DOTALL):
        packed = b"/FlateDecode" in each.group()
        rest = pdf[each.end() :]
        found.append(zlib.decompressobj().decompress(rest, MOST_BYTES) if packed else rest)
    return found


def signed_as_a_whole(pdf, certificates):
    """With which certificate a PDF was signed, whether the signature holds, and else what that means.

    Raises UnsoundError where it is not one over the whole file, or names none of the certificates."""
    covered, value = covered_in(pdf)
    (over, signer) = signed_data(value)
    if over[0][1] != PLAIN_DATA or len(over) != 1 or signer["hash"] != OF_SHA256:
        raise UnsoundError("it is of a kind that is not made here")
    attributes = signer["attributes"]
    if attributes[CONTENT_TYPE][:2] != (OF_NAME, PLAIN_DATA):
        raise UnsoundError("it is of a kind that is not made here")
    if attributes[MESSAGE_DIGEST][:2] != (OCTETS, hashlib.sha256(covered).digest()):
        raise UnsoundError("the file was changed since it was signed")
    named = "sha256:" + certificate_named(attributes[CERTIFICATE_NAMED]).hex()
    if named not in certificates or signer["names"] != names_in(certificates[named]):
        raise UnsoundError(f"the certificate that signed it is none of those in this bundle ({named})")
    return (named, *judged_with(certificates[named], signer))


def covered_in(pdf):
    """What the one signature of a PDF is over, which has to be all but its own value, and that value."""
    ranges = re.findall(rb"/ByteRange\s*\[\s*(\d{1,10})\s+(\d{1,10})\s+(\d{1,10})\s+(\d{1,10})\s*\]", pdf)
    if len(ranges) != 1:
        raise UnsoundError("it does not have one signature")
    begins, before, after, rest = map(int, ranges[0])
    held = pdf[before:after]
    if begins or after + rest != len(pdf) or not re.fullmatch(rb"<(?:[0-9A-Fa-f]{2})+>", held):
        raise UnsoundError("it is not over the whole file: something was added after it was signed")
    padded = bytes.fromhex(held[1:-1].decode())
    value = der_at(padded, 0)[2]
    if padded[len(value) :].strip(b"\0"):
        raise UnsoundError("something was put behind it")
    return pdf[:before] + pdf[after:], value


def judged_with(certificate, signer):
    """Whether the certificate's key made the signature, and else what that means."""
    if Ed25519PublicKey is None:
        return None, UNCHECKED
    how, given = signer["how"], (signer["value"], signer["covered"])
    try:
        public = load_der_x509_certificate(certificate).public_key()
        if how == ECDSA_WITH_SHA256 and isinstance(public, EllipticCurvePublicKey):
            public.verify(*given, ECDSA(SHA256()))
        elif how in RSA_WITH_SHA256 and isinstance(public, RSAPublicKey):
            public.verify(*given, PKCS1v15(), SHA256())
        else:
            raise UnsupportedAlgorithm(how.hex())
    except UnsupportedAlgorithm:
        return None, "this script does not know this kind of signature: use pdfsig"
    except InvalidSignature:
        return False, "the certificate's key did not sign this"
    return True, ""


def signed_data(data):
    """What CMS signs and its one signer (RFC 5652, 5.1 and 5.3)."""
    (whole,) = der(data)
    kind, held = within(whole, SEQUENCE)
    if kind[:2] != (OF_NAME, SIGNED_DATA):
        raise ValueError("it is no signed data")
    (inner,) = within(held, TAGGED)
    _version, _hashes, over, *_beside, signers = within(inner, SEQUENCE)
    (signer,) = within(signers, SET)
    _version, names, hashed, signed, how, value, *_unsigned = within(signer, SEQUENCE)
    return within(over, SEQUENCE), {
        "names": [part[2] for part in within(names, SEQUENCE)],
        "hash": within(hashed, SEQUENCE)[0][1],
        "attributes": dict(attribute(one) for one in once_each_of(within(signed, TAGGED))),
        "covered": bytes([SET]) + signed[2][1:],
        "how": within(how, SEQUENCE)[0][1],
        "value": value[1],
    }


def once_each_of(attributes):
    kinds = [within(one, SEQUENCE)[0][1] for one in attributes]
    if len(set(kinds)) < len(kinds):
        raise ValueError("an attribute stands there twice")
    return attributes


def attribute(one):
    kind, values = within(one, SEQUENCE)
    (value,) = within(values, SET)
    return kind[1], value


def certificate_named(value):
    """The SHA-256 of the certificate by which the signer says to have signed (RFC 5035, 3)."""
    (certificates, *_policies) = within(value, SEQUENCE)
    first = within(certificates, SEQUENCE)[0]
    hashed = within(first, SEQUENCE)[0]
    if hashed[0] != OCTETS:
        raise ValueError("it names its certificate by another hash than SHA-256")
    return hashed[1]


def names_in(certificate):
    """Issuer and serial number, by which CMS names a certificate (RFC 5280, 4.1)."""
    (whole,) = der(certificate)
    parts = within(within(whole, SEQUENCE)[0], SEQUENCE)
    serial, _how, issuer = parts[1:4] if parts[0][0] == TAGGED else parts[:3]
    return [issuer[2], serial[2]]


def stamp_in(token):
    """The SHA-256 that a time-stamp is over, and its time (RFC 3161, 2.4.2)."""
    over, _signer = signed_data(token)
    kind, held = over
    if kind[:2] != (OF_NAME, TIME_STAMP_STATED):
        raise ValueError("it is no time-stamp")
    (octets,) = within(held, TAGGED)
    (stated,) = der(octets[1])
    _version, _policy, imprint, _serial, at = within(stated, SEQUENCE)[:5]
    how, hashed = within(imprint, SEQUENCE)
    found = re.fullmatch(r"(\d{14})(?:\.\d{1,9})?Z", at[1].decode("ascii"))
    if at[0] != 0x18 or not found or octets[0] != OCTETS or within(how, SEQUENCE)[0][1] != OF_SHA256:
        raise ValueError("it is of a form that is not read here")
    return hashed[1], datetime.strptime(f"{found.group(1)}+0000", "%Y%m%d%H%M%S%z")


def der(data):
    """Parts that follow one another in DER (ITU-T X.690): tag, content, and all of its bytes."""
    found, at = [], 0
    while at < len(data):
        found.append(der_at(data, at))
        at += len(found[-1][2])
    return found


def der_at(data, at):
    tag, length, start = data[at], data[at + 1], at + 2
    if length >= 0x80:
        count = length - 0x80
        length, start = int.from_bytes(data[start : start + count], "big"), start + count
        if not 1 <= count <= 4 or length < max(0x80, 1 << 8 * (count - 1)):
            raise ValueError("a length is not written as DER has it")
    if tag & 0x1F == 0x1F or start + length > len(data):
        raise ValueError("it is no DER, or cut off")
    return tag, data[start : start + length], data[at : start + length]


def within(part, tag):
    if part[0] != tag:
        raise ValueError(f"expected {tag:#x} there, got {part[0]:#x}")
    return der(part[1])


def kinds_of(record):
    """As what it may have been signed: what its signatures mean, else what fits a version that replaces one."""
    kinds = {one.get("meaning") for one in record["signatures"]} & KINDS
    return kinds or ({"corrected", "void"} if record["record"].get("replaces") else {"signed"})


def forms_of(file):
    """The bytes as which a record goes into its sheet: whole, or without notices, which may name neighbours."""
    yield canonical_bytes(file)
    parts = {part: dict(file[part]) for part in ("sections", "salts")}
    for part in parts.values():
        part.pop("notices", None)
    yield canonical_bytes({name: value for name, value in {**file, **parts}.items() if name != "seal"})


def covered_by(signed):
    """What a signature is over: all but the signatures."""
    return canonical_bytes({name: value for name, value in signed.items() if name != "signatures"})


def hash_of(path):
    found = hashlib.sha256()
    with path.open("rb") as file:
        while part := file.read(1_000_000):
            found.update(part)
    return found.hexdigest()


def sealed(seal):
    raw = unpadded(seal["value"])
    halves = (int.from_bytes(raw[:32], "big"), int.from_bytes(raw[32:], "big"))
    try:
        key = load_der_public_key(unpadded(seal["public"]))
        key.verify(encode_dss_signature(*halves), canonical_bytes(seal["statement"]), ECDSA(SHA256()))
    except (InvalidSignature, UnsupportedAlgorithm, ValueError, TypeError, AttributeError):
        return False
    return len(raw) == 64


def once_each(pairs):
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError("a name stands there twice")
    return found


def unpadded(text):
    return base64.b64decode(text + "=" * (-len(text) % 4), altchars=b"-_", validate=True)


def root_of(head):
    return bytes.fromhex(head["root"].removeprefix("sha256:"))


def key_named(text):
    """The digest of a key as people copy it: with or without its prefix, in capitals, with spaces."""
    found = "".join(text.split()).lower().removeprefix("sha256:")
    if not re.fullmatch("[0-9a-f]{64}", found):
        raise argparse.ArgumentTypeError("a digest is 64 characters of 0-9 and a-f, with or without sha256:")
    return "sha256:" + found


def asked():
    parser = argparse.ArgumentParser(description="Check a bundle of treatment records.")
    parser.add_argument("folder", nargs="?", type=Path, default=Path(__file__).resolve().parent)
    parser.add_argument(
        "--key", metavar="DIGEST", type=key_named, help="the firm's newest key, from which changes are followed"
    )
    parser.add_argument(
        "--head",
        metavar="FILE",
        type=Path,
        help="a head of the log that was kept elsewhere, or a proof from a proof page, must fit, too",
    )
    return parser.parse_args()


def verdict(bundle):
    lines = bundle.report.lines
    if lines["FAILS"]:
        return "The bundle does not hold.", FAILS
    if not bundle.names and not bundle.is_said_to_be_empty():
        return "There is nothing to check: no record is in this bundle.", NOT_A_BUNDLE
    if Ed25519PublicKey is None:
        return "Not all could be checked (install cryptography).", NOT_ALL_CHECKED
    if lines["unproved"]:
        return "Not all could be checked.", NOT_ALL_CHECKED
    if not bundle.names:
        return f"The bundle holds. {NO_RECORD}", HOLDS
    return "The bundle holds.", HOLDS


def main():
    options = asked()
    sys.stdout.reconfigure(errors="backslashreplace")
    try:
        bundle = Bundle(options.folder, options.key)
        kept, proof = read_head(options.head) if options.head else (None, None)
    except NotABundleError as error:
        print(f"This can't be checked: {error}", file=sys.stderr)
        return NOT_A_BUNDLE
    bundle.check()
    if kept:
        bundle.guarded("the head that you kept", bundle.kept_head, kept)
    if proof:
        bundle.guarded("the proof that you gave", bundle.given_proof, proof)
    lines = bundle.report.lines
    told = f"{lines['holds']} hold, {lines['FAILS']} fail, {lines['withheld']} withheld"
    print(f"{told}, {lines['unproved']} could not be checked.")
    if not options.key:
        keys = ", ".join(sorted(bundle.keys))
        print(f"The key came with the bundle: {keys}.")
        print("Compare it with the one that the firm has given you, or name that one with --key.")
    for line in bundle.shown():
        print(line)
    if bundle.report.failing:
        print("These fail:")
    for what in bundle.report.failing:
        print(f"  FAILS   {what}")
    said, code = verdict(bundle)
    print(said)
    return code


if __name__ == "__main__":
    sys.exit(main())
