"""Calls that are made up from the description of the API, as schemathesis does it: none ends in a fault, and
every answer is one that the description allows. Few of each call by default, many in `make test-long`."""

from collections.abc import Iterator
from typing import Any
from uuid import uuid4

import pytest
from django.core.signals import request_finished, request_started
from django.db import close_old_connections
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from compliance.services.requests import take_request
from project.wsgi import application
from records.models import Membership
from records.programs.repeats import HEADER
from tests.project.test_addresses import signed  # noqa: F401 - a fixture
from tests.project.test_api import ASKED, AT, bundle_of
from tests.records.programs.calling import program

FEW, MANY = 2, 150


@pytest.fixture
def on_one_connection() -> Iterator[None]:
    """The service itself lets go of its connection around each call; what a test has written would be gone."""
    for each in (request_started, request_finished):
        each.disconnect(close_old_connections)
    yield
    for each in (request_started, request_finished):
        each.connect(close_old_connections)


@pytest.fixture
def known(colleague, plan, draft, signed, on_one_connection) -> dict[str, Any]:  # noqa: F811
    """What is there, which nobody makes up."""
    request = take_request(colleague.firm, colleague.user, ASKED | {"received_at": AT}, None)
    bundle = bundle_of(request, signed)
    ids = {"uuid": draft.pk, "asked": request.pk, "lot": plan.products[0].lot.pk, "bundle": bundle.pk}
    line = plan.products[0]
    rows = {"site": str(plan.site.pk), "rig": str(plan.rig.pk), "people": []}
    rows["surfaces"] = [str(each.pk) for each in plan.surfaces]
    rows["products"] = [{"product": str(line.product.pk), "lot": str(line.lot.pk), "amount": "2 gal"}]
    rows |= {"amount": "2 gal", "diluent": "13,5 gal", "planned_at": AT.isoformat(), "on": "2026-09-01"}
    rows |= {"received_at": AT.isoformat()}
    return {name: str(key) for name, key in ids.items()} | rows | {"version": "1", "revision": draft.revision}


def whole(environ: Any, start_response: Any) -> list[bytes]:
    """The service, which closes the files that it gives out, as a server has it do."""
    answer = application(environ, start_response)
    try:
        return [b"".join(answer)]
    finally:
        answer.close()


def complaints(member: Membership, known: dict[str, Any], examples: int) -> dict[str, str]:
    """What does not fit the description, by call. The import takes seconds, for which no other test shall
    wait."""
    import schemathesis
    from schemathesis.checks import not_a_server_error
    from schemathesis.specs.openapi import checks

    headers = {"Authorization": f"Bearer {program(member).token}", "Accept-Encoding": "identity"}
    schema = schemathesis.openapi.from_wsgi("/api/v1/schema/", app=whole, headers=headers)
    asked = [
        not_a_server_error,
        checks.status_code_conformance,
        checks.content_type_conformance,
        checks.response_schema_conformance,
    ]
    complained: dict[str, str] = {}
    for found in schema.get_all_operations():
        call = found.ok()

        @settings(
            max_examples=examples,
            deadline=None,
            database=None,
            derandomize=True,
            phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
        )
        @given(case=call.as_strategy(), there=st.booleans())
        def held(case: Any, there: bool) -> None:
            if there:
                case.path_parameters = {name: known[name] for name in case.path_parameters or {}}
                case.headers = {**(case.headers or {}), HEADER: str(uuid4()), "If-Match": "*"}
                if isinstance(case.body, dict):
                    case.body = {name: known.get(name, value) for name, value in case.body.items()}
            answer = case.call(headers=headers)
            case.validate_response(answer, checks=asked)

        try:
            held()
        except Exception as error:
            complained[call.label] = f"{error}"
    return complained


def test_no_call_ends_in_a_fault_or_in_what_the_description_does_not_say(colleague, known):
    assert complaints(colleague, known, FEW) == {}


@pytest.mark.long
def test_nor_does_any_of_very_many(colleague, known):
    assert complaints(colleague, known, MANY) == {}
