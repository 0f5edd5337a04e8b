#!/usr/bin/env python3
"""Check a bundle of treatment records without the service that made it.

    python3 verify_records.py [FOLDER] [--key DIGEST]

FOLDER is the unpacked bundle (else the folder of this file). --key names the digest (sha256:…) of the firm's
key that you were given by another way, an old or a new one: from it the changes of key are followed. Without it
the keys that came with the bundle are used, which shows that nothing was changed since it was made, and not who
made it.

Needs Python 3.9 or later. Signatures need the library `cryptography` (pip install cryptography); without it
everything else is checked, and the bundle counts as not verified.

Prints one line for each thing: `holds`, `FAILS` with what that means, or `withheld` for a section that the
firm left out. Exit code 0: all holds; 1: something does not, or could not be checked; 2: not a bundle.

What is checked, and where it is written down:
  bytes of every file         SHA-256 (FIPS 180-4) against SHA256SUMS
  a record's sections         SHA-256 over the canonical bytes (RFC 8785) of ["name","salt",section]
  signatures                  Ed25519 (RFC 8032) over the canonical bytes of all but `signatures`
  what a person sealed        ECDSA over P-256 with SHA-256 (FIPS 186-5) by their device's key, over the
  on a device                 canonical bytes of a statement that names the record's document by its digest
  place in the log            Merkle tree of RFC 9162, 2.1: leaf = the canonical bytes of what was signed
  heads of the log            signed; each later one begins with the earlier ones
  when a record came in       in the head that was signed with it; no later entry came in earlier
  changes of the firm's key   signed by the old and the new key, entered in the log; a key counts only where
                              it was in force; `--key` follows them from the key that you trust
  time-stamps of heads        RFC 3161: the token is over the head; `openssl ts` checks who made it, and when
"""

import argparse
import base64
import hashlib
import json
import sys
from datetime import datetime
from pathlib import Path

try:
    from cryptography.exceptions import InvalidSignature
    from cryptography.hazmat.primitives.asymmetric.ec import ECDSA
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
    from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
    from cryptography.hazmat.primitives.hashes import SHA256
    from cryptography.hazmat.primitives.serialization import load_der_public_key
except ImportError:
    Ed25519PublicKey = None

HOLDS, FAILS, NOT_A_BUNDLE = 0, 1, 2
MOST_BYTES = 50_000_000


class NotABundleError(Exception):
    """What lies there can't be read as a bundle; the message says why."""


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
    """Prints a line for each thing that was looked at, and remembers whether all held."""

    def __init__(self):
        self.lines = {"holds": 0, "FAILS": 0, "withheld": 0}

    def say(self, state, what):
        self.lines[state] += 1
        print(f"{state:<8}  {what}")

    def judge(self, holds, what, means):
        """A line that holds, or that fails with what this means."""
        self.say("holds" if holds else "FAILS", what if holds else f"{what}: {means}")
        return holds


class Bundle:
    """An unpacked bundle: its files, the firm's keys by digest, and the newest head of the log."""

    def __init__(self, folder, trusted):
        self.folder = folder
        self.log = self.read("log.json")
        self.keys = self.read("keys.json").get("keys")
        if not isinstance(self.keys, dict) or self.log.get("schema") != "log-proof/1":
            raise NotABundleError("keys.json or log.json is not what a bundle has there")
        self.trusted = trusted
        self.report = Report()

    def read(self, name):
        path = self.inside(name)
        try:
            if path.stat().st_size > MOST_BYTES:
                raise NotABundleError(f"{name} is larger than {MOST_BYTES} bytes")
            found = json.loads(path.read_bytes(), object_pairs_hook=once_each)
        except OSError as error:
            raise NotABundleError(f"{name} can't be read: {error.strerror}") from error
        except (ValueError, RecursionError) as error:
            raise NotABundleError(f"{name} is no JSON: {error}") from error
        if not isinstance(found, dict):
            raise NotABundleError(f"{name} is no JSON object")
        return found

    def inside(self, name):
        path = (self.folder / name).resolve()
        if self.folder.resolve() not in path.parents:
            raise NotABundleError(f"{name} does not lie in the bundle")
        return path

    def check(self):
        self.checksums()
        self.key_digests()
        head = self.log["head"]
        self.key_chain(head)
        self.entries = {entry["digest"]: entry for entry in self.log["entries"]}
        self.head(head, "the newest head of the log")
        self.earlier_heads(head)
        self.time_stamps(head)
        self.met = set()
        self.came_in = []
        for name in self.log["files"]:
            self.record(name, head)
        for left in sorted(self.entries.keys() - self.met):
            index = self.entries[left]["index"]
            self.report.say("FAILS", f"entry {index}: what was signed there was taken out")
        self.clock()
        return self.report.lines

    def checksums(self):
        listed = {}
        for line in self.inside("SHA256SUMS").read_text().splitlines():
            hashed, _, name = line.partition("  ")
            listed[name] = hashed
        for name in sorted(listed):
            path = self.inside(name)
            found = hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else None
            means = "the file is gone" if found is None else "the file was changed since the bundle was made"
            self.report.judge(found == listed[name], f"{name}, its checksum", means)
        there = {str(path.relative_to(self.folder)) for path in self.folder.rglob("*") if path.is_file()}
        for name in sorted(there - listed.keys() - {"SHA256SUMS"}):
            self.report.say("FAILS", f"{name}: this file was added since the bundle was made")

    def key_digests(self):
        for name, text in sorted(self.keys.items()):
            holds = digest(unpadded(text)) == name
            self.report.judge(holds, f"key {name}", "this is not the key of that digest")
        if self.trusted and self.trusted not in self.keys:
            means = "it is not among the bundle's keys, so this is another firm's"
            self.report.say("FAILS", f"key {self.trusted}: {means}")

    def key_chain(self, head):
        """The keys one after another, each with the index of the log from which on it is in force."""
        steps = self.log.get("key_changes") or []
        signed_with = (head.get("signatures") or [{}])[0].get("key")
        self.chain = [(0, steps[0]["statement"]["replaces"] if steps else signed_with)]
        self.old_signed = []
        for step in steps:
            self.key_change(step, head)
        for name in sorted(self.keys.keys() - {key for _index, key in self.chain}):
            self.report.say("FAILS", f"key {name}: nothing in the log introduces it")
        self.firms = self.followed()

    def key_change(self, step, head):
        """The key in force introduces another and both sign; where it was lost, the new one says so alone."""
        stated, index = step["statement"], step["index"]
        since, old = self.chain[-1]
        what, data = f"key {stated['key']}, in force from entry {index} on", canonical_bytes(stated)
        proof = [bytes.fromhex(part) for part in step["proof"]]
        later = index > since or len(self.chain) == 1
        placed = later and includes(leaf_hash(data), index, head["size"], proof, root_of(head))
        self.report.judge(placed, f"{what}, its change", "the log does not hold these bytes at that place")
        signed, lost = stated.get("signatures") or [], stated.get("lost") is True
        expected = ("key-change/1", head["log"], old, self.keys.get(stated["key"]))
        fits = (stated["schema"], stated["log"], stated["replaces"], stated["public"]) == expected
        by_both = [one.get("key") for one in signed] == ([] if lost else [old]) + [stated["key"]]
        how = "signed by the new key alone: the old one was lost" if lost else "signed by old and new key"
        covered = canonical_bytes({name: value for name, value in stated.items() if name != "signatures"})
        wrong = [means for one in signed for holds, means in [self.verified(one, covered)] if not holds]
        introduced = fits and by_both and not wrong
        means = wrong[0] if wrong else "the key in force did not introduce it so"
        self.report.judge(introduced, f"{what}, {how}", means)
        if placed and introduced:
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

    def head(self, head, what):
        self.signatures(head, f"{what} ({head['size']} entries, {head['at']})", head["size"] - 1)

    def earlier_heads(self, newest):
        for step in self.log.get("earlier") or []:
            head, what = step["head"], f"the head of {step['head']['size']} entries"
            self.head(head, what)
            proof = [bytes.fromhex(part) for part in step["proof"]]
            same = head["log"] == newest["log"]
            holds = same and extends(head["size"], root_of(head), newest["size"], root_of(newest), proof)
            means = "the log was rewritten since: entries were changed or taken out"
            self.report.judge(holds, f"{what}, kept by the newest head", means)

    def time_stamps(self, newest):
        """A token holds the digest of what it is over; its own signature is for `openssl ts`."""
        earlier = [step["head"] for step in self.log.get("earlier") or []]
        heads = {one["size"]: one for one in (newest, *earlier)}
        for token in sorted(self.folder.glob("time-stamps/*.tst")):
            size = int(token.stem) if token.stem.isdecimal() else 0
            what = f"time-stamps/{token.name}: of the head of {size} entries (its signature: see README.txt)"
            data, stamped = canonical_bytes(heads.get(size)), token.with_suffix(".json")
            same = stamped.is_file() and stamped.read_bytes() == data
            holds = same and hashlib.sha256(data).digest() in token.read_bytes()
            self.report.judge(holds, what, "it is of something else than the log's head")

    def record(self, name, head):
        file = self.read(name)
        record = file["record"]
        stated = record["record"]
        whose = f"{stated.get('number')} version {stated.get('version')}"
        self.signatures(record, whose, self.index_of(record))
        self.sections(file, whose)
        self.seal(file, whose)
        self.entered(record, head, whose)
        for place, follow_up in enumerate(file.get("follow_ups") or []):
            what = f"{whose}, follow-up {place + 1} ({follow_up.get('kind')})"
            follows = (follow_up.get("follows") or {}).get("id") == stated.get("id")
            self.report.judge(follows, f"{what}, the record that it follows", "it follows another record")
            self.signatures(follow_up, what, self.index_of(follow_up))
            self.entered(follow_up, head, what)

    def sections(self, file, whose):
        bound = file["record"]["sections"]
        for name in sorted(bound):
            if name not in file["sections"]:
                self.report.say("withheld", f"{whose}, {name}{erased(file, name)}")
                continue
            salted = canonical_bytes([name, file["salts"].get(name), file["sections"][name]])
            self.report.judge(digest(salted) == bound[name], f"{whose}, {name}", "this is not what was signed")
        for name in sorted(file["sections"].keys() - bound.keys()):
            self.report.say("FAILS", f"{whose}, {name}: the record does not bind this section")

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
        if Ed25519PublicKey is None:
            self.report.say("FAILS", f"{what}: it was not checked: install the library cryptography")
        else:
            means = "what was sealed, or the seal, was changed"
            self.report.judge(sealed(seal), f"{what}, {stated.get('claimed_at')}, the seal", means)

    def entered(self, signed, head, whose):
        data = canonical_bytes(signed)
        entry = self.entries.get(digest(data))
        self.met.add(digest(data))
        if entry is None:
            self.report.say("FAILS", f"{whose}, its place in the log: it is not among the bundle's entries")
            return
        proof = [bytes.fromhex(part) for part in entry["proof"]]
        holds = includes(leaf_hash(data), entry["index"], head["size"], proof, root_of(head))
        means = "the log does not hold these bytes at that place"
        self.report.judge(holds, f"{whose}, entered in the log at {entry['index']}", means)
        if "head" in entry:
            self.own_head(entry, head, whose)

    def own_head(self, entry, newest, whose):
        """The head that was signed when the entry came in says when that was."""
        own = entry["head"]
        what = f"{whose}, the head that was signed when it came in"
        self.signatures(own, f"{what} ({own['at']})", own["size"] - 1)
        if own["log"] != newest["log"] or own["size"] != entry["index"] + 1:
            self.report.say("FAILS", f"{what}: it is of another entry")
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
        covered = canonical_bytes({name: value for name, value in signed.items() if name != "signatures"})
        for one in made:
            by = f"{one['by']}, {one.get('role')}, {one.get('meaning')}" if "by" in one else "the service"
            self.report.judge(*self.signature(one, covered, f"{whose}, signature by {by}", index))

    def signature(self, one, covered, what, index):
        if one.get("key") not in self.firms:
            return False, what, "it was made with a key that is not the firm's"
        if index is not None and one["key"] != self.in_force(index):
            return False, what, "it was made with a key that was not in force at its place in the log"
        holds, means = self.verified(one, covered)
        return holds, what, means

    def verified(self, one, covered):
        if one.get("algorithm") != "Ed25519":
            return False, "expected Ed25519"
        if Ed25519PublicKey is None:
            return False, "it was not checked: install the library cryptography"
        try:
            key = Ed25519PublicKey.from_public_bytes(unpadded(self.keys[one["key"]]))
            key.verify(unpadded(one["value"]), covered)
        except (InvalidSignature, ValueError):
            return False, "what was signed, or the signature, was changed"
        return True, ""


def sealed(seal):
    raw = unpadded(seal["value"])
    halves = (int.from_bytes(raw[:32], "big"), int.from_bytes(raw[32:], "big"))
    try:
        key = load_der_public_key(unpadded(seal["public"]))
        key.verify(encode_dss_signature(*halves), canonical_bytes(seal["statement"]), ECDSA(SHA256()))
    except (InvalidSignature, ValueError, TypeError, AttributeError):
        return False
    return len(raw) == 64


def erased(file, name):
    """What the firm says of a section that it does not have any more."""
    said = file.get("erased") or {}
    if name not in said.get("sections", []):
        return ""
    return f": erased on {said['on']} under {', '.join(said['under'])}"


def once_each(pairs):
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError("a name stands there twice")
    return found


def unpadded(text):
    return base64.b64decode(text + "=" * (-len(text) % 4), altchars=b"-_", validate=True)


def root_of(head):
    return bytes.fromhex(head["root"].removeprefix("sha256:"))


def main():
    parser = argparse.ArgumentParser(description="Check a bundle of treatment records.")
    parser.add_argument("folder", nargs="?", type=Path, default=Path(__file__).resolve().parent)
    parser.add_argument("--key", metavar="DIGEST", help="a key of the firm, from which changes lead on")
    options = parser.parse_args()
    try:
        bundle = Bundle(options.folder, options.key)
        lines = bundle.check()
    except NotABundleError as error:
        print(f"This is not a bundle that can be checked: {error}", file=sys.stderr)
        return NOT_A_BUNDLE
    except (KeyError, TypeError, AttributeError, ValueError, OSError, RecursionError) as error:
        print(f"This is not a bundle that can be checked: {type(error).__name__} {error}", file=sys.stderr)
        return NOT_A_BUNDLE
    print(f"{lines['holds']} hold, {lines['FAILS']} fail, {lines['withheld']} withheld.")
    if not options.key:
        keys = ", ".join(sorted(bundle.keys))
        print(f"The key came with the bundle: {keys}.")
        print("Compare it with the one that the firm has given you, or name that one with --key.")
    print("The bundle does not hold." if lines["FAILS"] else "The bundle holds.")
    return FAILS if lines["FAILS"] else HOLDS


if __name__ == "__main__":
    sys.exit(main())
