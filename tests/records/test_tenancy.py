"""Firms are apart in every model."""

import pytest
from django.core.exceptions import ValidationError

from records.models import Site
from shared.tenancy import UnscopedQueryError
from tests.factories import CustomerFactory, SiteFactory


def test_a_query_that_names_no_firm_is_refused(db):
    with pytest.raises(UnscopedQueryError, match=r"Site.objects: name the firm"):
        Site.objects.filter(name="House")


def test_a_site_of_another_firms_customer_is_refused(firm, stranger):
    customer = CustomerFactory(firm=stranger.firm)
    with pytest.raises(ValidationError, match="another firm"):
        SiteFactory(firm=firm, customer=customer)


def test_history_is_as_far_apart_as_the_rows(firm, stranger):
    SiteFactory(firm=firm)
    assert Site.history.for_firm(firm).count() == 1
    assert Site.history.for_firm(stranger.firm).count() == 0
    with pytest.raises(UnscopedQueryError):
        Site.history.all()
