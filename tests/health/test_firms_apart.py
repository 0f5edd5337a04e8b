import re

from tests.health.committed import code, name_of

MAY_CROSS_FIRMS: dict[str, str] = {
    "shared/tenancy.py": "defines it",
    "compliance/management/commands/erase_expired.py": "takes all firms of the machine, one by one",
    "compliance/management/commands/print_form.py": "takes the firm that the machine's owner names",
    "compliance/management/commands/write_bundle.py": "takes the firm that the machine's owner names",
    "compliance/management/commands/recheck_treatments.py": "takes all firms of the machine, one by one",
    "shared/history.py": "defines it for past rows",
    "records/models/firms.py": "defines it for the firm itself",
    "records/models/accounts.py": "asks for an account's own memberships",
    "records/services/invitations.py": "reads the one membership that an invitation's link names",
    "records/management/commands/verify_log.py": "looks at the logs of all firms of the machine, one by one",
    "records/daily_look.py": "has the logs of all firms of the machine looked at, one by one",
    "records/outbox/returning.py": "reads the one notice that an unguessable Message-ID names",
    "records/outbox/told.py": "reads the one notice that an unguessable address names",
    "records/programs/tokens.py": "reads the one token whose digest is that of what was sent",
    "compliance/services/handed_links.py": "reads the one link that an unguessable address names",
    "records/proof.py": "reads the one record that an unguessable address names",
    "records/backup/firms.py": "one backup holds all firms of the machine",
    "records/leaving/loading.py": "puts the one firm that a file names into an empty service",
    "records/management/commands/take_out.py": "takes the firm that the machine's owner names",
    "records/management/commands/replace_lost_keys.py": "takes all firms of the machine, one by one",
    "records/management/commands/change_key.py": "takes the firm that the machine's owner names",
    "records/management/commands/forget_people.py": "takes all firms of the machine, one by one",
    "records/management/commands/sweep_photos.py": "takes all firms of the machine, one by one",
    "records/auditing/refusals.py": "asks what was refused lately to those who belong to no firm",
    "records/admin/audit.py": "shows the machine's owner what was done that belongs to no firm",
    "records/admin/firms.py": "shows all firms to the owner of the machine",
}


def crossing() -> set[str]:
    used = re.compile(r"\b(across_firms|_default_manager|_base_manager)\b")
    return {name_of(path) for path in code() if used.search(path.read_text())}


def test_only_the_listed_modules_may_ask_across_firms():
    assert crossing() == MAY_CROSS_FIRMS.keys()
