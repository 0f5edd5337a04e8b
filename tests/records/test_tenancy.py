"""Firms are apart in every model: a row of each is made for two firms, and neither sees the other's."""

from datetime import UTC, datetime

import pytest
from django.apps import apps
from django.core.exceptions import ValidationError

from compliance.models import StoredCheck
from records.models import (
    Firm,
    NumberSeries,
    Site,
    Surface,
    User,
)
from shared.tenancy import FirmOwned, UnscopedQueryError
from tests.factories import (
    CustomerFactory,
    MembershipFactory,
    SiteFactory,
)

NOBODYS = {"User", "PackVersion", "PacksInUse"}
"""Models of ours whose rows belong to no firm: an account may be a member of several; law is everybody's."""

AT = datetime(2026, 9, 14, 16, 0, tzinfo=UTC)
OURS = [
    model
    for label in ("records", "compliance")
    for model in apps.get_app_config(label).get_models()
    if model.__name__ not in NOBODYS
]


def firm_id_of(row: object) -> object:
    return row.firm_id if hasattr(row, "firm_id") else row.uuid


def test_every_model_is_walked():
    assert len(OURS) > 30
    assert {NumberSeries, Site, Surface, StoredCheck, Site.history.model, Firm} <= set(OURS)
    assert all(
        issubclass(model, FirmOwned) or model.__name__.startswith("Historical")
        for model in OURS
        if model is not Firm
    )


def test_each_firm_sees_its_own_rows_of_every_model_and_no_others(two_firms):
    for model in OURS:
        for firm in two_firms:
            rows = list(model.objects.for_firm(firm))
            assert rows, f"no {model.__name__} was made"
            assert {firm_id_of(row) for row in rows} == {firm.pk}, model.__name__
        assert model.across_firms.count() == sum(model.objects.for_firm(firm).count() for firm in two_firms)


@pytest.mark.parametrize("model", OURS, ids=lambda model: model.__name__)
def test_a_query_that_names_no_firm_is_refused(model, db):
    for ask in (
        model.objects.all,
        model.objects.count,
        model.objects.first,
        lambda: model.objects.filter(pk=None),
        lambda: model.objects.get(pk=None),
    ):
        with pytest.raises(UnscopedQueryError, match="name the firm"):
            ask()


def test_every_reference_from_row_to_row_stays_within_one_firm(two_firms):
    """For each foreign key between rows of firms: pointing it at the other firm's row is refused."""
    ours, theirs = two_firms
    tried = 0
    for model in OURS:
        if not issubclass(model, FirmOwned):
            continue
        for field in model._meta.fields:
            if not (field.is_relation and issubclass(field.related_model, FirmOwned)):
                continue
            row = model.objects.for_firm(ours).first()
            setattr(row, field.name, field.related_model.objects.for_firm(theirs).first())
            with pytest.raises(ValidationError, match="another firm"):
                row.keep_within_one_firm()
            tried += 1
    assert tried > 15


def test_a_site_of_another_firms_customer_is_refused_also_in_bulk(firm, stranger):
    customer = CustomerFactory(firm=stranger.firm)
    with pytest.raises(ValidationError, match="another firm"):
        SiteFactory(firm=firm, customer=customer)
    with pytest.raises(ValidationError, match="another firm"):
        Site.objects.bulk_create([Site(firm=firm, customer=customer, name="House")])


def test_a_row_without_a_firm_takes_that_of_its_parent(firm):
    site = SiteFactory(firm=firm)
    assert Surface.objects.create(site=site, name="Walk", kind="walk").firm_id == firm.pk


def test_history_is_as_far_apart_as_the_rows(firm, stranger):
    site = SiteFactory(firm=firm)
    assert site.history.count() == 1
    assert Site.history.for_firm(firm).count() == 1
    assert Site.history.for_firm(stranger.firm).count() == 0
    with pytest.raises(UnscopedQueryError):
        Site.history.all()


def test_an_account_may_belong_to_two_firms_with_different_roles(firm, stranger):
    member = MembershipFactory(firm=firm, role="crew")
    MembershipFactory(firm=stranger.firm, user=member.user, role="inspector")
    assert User.objects.get(pk=member.user_id).roles == {firm.pk: "crew", stranger.firm.pk: "inspector"}
