"""Make a firm of many phones and its drafts; a program. Prints one JSON line of sessions and treatments."""

import json
import sys
from datetime import datetime

import django

django.setup()

from django.conf import settings  # noqa: E402
from django.core.management import call_command  # noqa: E402
from django.test import Client  # noqa: E402

from records.services.planning import Plan, plan_treatment  # noqa: E402
from tests.factories import FirmFactory, MembershipFactory, SurfaceFactory  # noqa: E402

PHONES, TREATMENTS = 24, 8


def main() -> None:
    call_command("migrate", verbosity=0)
    call_command("createcachetable", verbosity=0)
    firm = FirmFactory()
    members = [MembershipFactory(firm=firm) for _ in range(PHONES)]
    sessions = []
    for member in members:
        client = Client()
        client.force_login(member.user)
        sessions.append(client.cookies[settings.SESSION_COOKIE_NAME].value)
    at = datetime.fromisoformat("2026-09-14T09:00:00-07:00")
    surfaces = [SurfaceFactory(firm=firm) for _ in range(TREATMENTS)]
    plans = [Plan(site=surface.site, surfaces=[surface], planned_at=at) for surface in surfaces]
    treatments = [str(plan_treatment(firm, members[0].user, plan).pk) for plan in plans]
    sys.stdout.write(json.dumps({"sessions": sessions, "treatments": treatments}) + "\n")


if __name__ == "__main__":
    main()
