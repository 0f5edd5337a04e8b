"""A manager keeps the firm's reference data on the admin pages; digits stay as typed."""

import json
from datetime import datetime
from html import unescape

import pytest
from django.urls import reverse

from records.models import LabelVersion, Membership, Product, Site, Surface, User
from tests.factories import (
    PASSWORD,
    BatchFactory,
    CustomerFactory,
    LabelVersionFactory,
    SiteFactory,
    SurfaceFactory,
)


@pytest.fixture
def manager(client, colleague):
    client.force_login(colleague.user)
    return client


def page(name: str, *args: object) -> str:
    return reverse(f"admin:{name}", args=args)


def no_rows(*prefixes: str) -> dict[str, str]:
    counts = {"TOTAL_FORMS": "0", "INITIAL_FORMS": "0", "MIN_NUM_FORMS": "0", "MAX_NUM_FORMS": "1000"}
    return {f"{prefix}-{name}": value for prefix in prefixes for name, value in counts.items()}


def refusals(response) -> list[str]:
    """Every error on the page, so that a refused form says why."""
    if response.context is None:
        return []
    return [str(error) for error in response.context["errors"]]


SITE = {
    "name": "House, 4 Heron Row",
    "line1": "4 Heron Row",
    "city": "Port Quill",
    "country": "US",
    "jurisdictions": "us, us-wa",
    "time_zone": "America/Los_Angeles",
    "use": "residence",
}


def test_a_site_is_entered_with_its_surfaces_and_features_in_one_go(manager, firm):
    customer = CustomerFactory(firm=firm)
    surface = {"name": "Main roof", "kind": "roof", "plan_area": "1200.0 sq ft", "rise": "6", "run": "12"}
    feature = {"name": "curb inlet", "kind": "storm-drain", "distance": "22 ft", "bearing": "200 degree"}
    rows = {f"surfaces-0-{name}": value for name, value in surface.items()}
    rows |= {f"features-0-{name}": value for name, value in feature.items()}
    counts = no_rows("surfaces", "features") | {"surfaces-TOTAL_FORMS": "1", "features-TOTAL_FORMS": "1"}
    response = manager.post(page("records_site_add"), {**SITE, "customer": customer.pk, **counts, **rows})
    assert refusals(response) == []
    site = Site.objects.for_firm(firm).get()
    assert site.jurisdictions == ["us", "us-wa"]
    saved = Surface.objects.for_firm(firm).get()
    assert (saved.plan_area.value, saved.plan_area.unit) == ("1200.0", "ft**2")
    assert site.features.get().distance.value == "22"
    # 1200 x sqrt(1 + (6/12)²) = 1341.64: the right-angled triangle
    assert "1341.64 ft²" in manager.get(page("records_site_change", site.pk)).text


def test_an_area_in_gallons_is_refused_in_words(manager, firm):
    site = SiteFactory(firm=firm)
    counts = no_rows("surfaces", "features") | {"surfaces-TOTAL_FORMS": "1"}
    surface = {"surfaces-0-name": "Roof", "surfaces-0-kind": "roof", "surfaces-0-plan_area": "3000 gal"}
    response = manager.post(
        page("records_site_change", site.pk), {**SITE, "customer": site.customer_id, **counts, **surface}
    )
    assert "expected an area, got 3000 gal" in response.text
    assert Surface.objects.for_firm(firm).count() == 0


def test_only_the_firms_own_customers_are_offered(manager, firm, stranger):
    ours, theirs = (
        CustomerFactory(firm=firm, name="A. Ours"),
        CustomerFactory(firm=stranger.firm, name="B. Theirs"),
    )
    text = manager.get(page("records_site_add")).text
    assert str(ours.pk) in text
    assert str(theirs.pk) not in text
    response = manager.post(
        page("records_site_add"), {**SITE, "customer": theirs.pk, **no_rows("surfaces", "features")}
    )
    assert refusals(response)
    assert Site.objects.for_firm(firm).count() == 0


def test_a_name_that_the_firm_has_already_is_refused_with_a_sentence(manager, firm):
    LabelVersionFactory(firm=firm, product__name="Sample Moss Wash")
    new = {"name": "Sample Moss Wash", "kind": "pesticide", "regime": "pesticide", **no_rows("labels")}
    response = manager.post(page("records_product_add"), new)
    assert response.status_code == 200
    assert Product.objects.for_firm(firm).count() == 1


LABEL = {
    "version": "2026-01",
    "registration_number": "99999-12",
    "signal_word": "warning",
    "restricted_use": "false",
    "density": "8.9 lb/gal",
    "label_kind": "main",
    "ingredients": "invented active 38 % w/w",
    "targets": ["moss", "algae"],
    "sites": ["roof"],
    "not_on": "copper, galvanized metal",
    "limits": "wind_speed max 10 mph\ntemperature min 38 degF max 90 degF\napplications_per_year max 4",
    "ppe": ["gloves"],
    "protection": ["downspouts-diverted"],
    "statements": "Do not apply directly to water.",
    "valid_from": "2026-01-01",
}


def test_a_label_is_ticked_and_typed_and_held_in_the_documents_shape(manager, firm):
    product = LabelVersionFactory(firm=firm).product
    response = manager.post(
        page("records_labelversion_add"), {**LABEL, "product": product.pk, **no_rows("lots")}
    )
    assert refusals(response) == []
    saved = LabelVersion.objects.for_firm(firm).get(version="2026-01")
    assert saved.active_ingredients == [{"name": "invented active", "percent": "38", "basis": "w/w"}]
    assert saved.label["limits"] == [
        {"of": "wind_speed", "max": {"value": "10", "unit": "mph"}},
        {
            "of": "temperature",
            "min": {"value": "38", "unit": "degF"},
            "max": {"value": "90", "unit": "degF"},
        },
        {"of": "applications_per_year", "max": "4"},
    ]
    assert saved.label["not_on"] == ["copper", "galvanized metal"]
    shown = manager.get(page("records_labelversion_change", saved.pk)).text
    assert "temperature min 38 degF max 90 degF" in shown


def test_a_label_says_whether_it_is_of_restricted_use(manager, firm):
    product = LabelVersionFactory(firm=firm).product
    unsaid = {**LABEL, "restricted_use": "", "product": product.pk, **no_rows("lots")}
    response = manager.post(page("records_labelversion_add"), unsaid)
    assert ["id_restricted_use_error" in each for each in refusals(response)] == [True]


def test_a_box_for_a_quantity_shows_that_a_unit_belongs_in_it(manager, firm):
    site = SurfaceFactory(firm=firm).site
    assert 'placeholder="… ft²"' in manager.get(page("records_site_change", site.pk)).text


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("wind_speed max 10 gal", "expected a speed, got 10 gal"),
        ("wind_speed at most 10", "expected, for example, wind_speed max 10 mph"),
        ("sunshine max 10 hour", "sunshine"),
    ],
)
def test_a_limit_that_cannot_be_read_is_said_beside_its_field(manager, firm, typed, said):
    product = LabelVersionFactory(firm=firm).product
    new = {**LABEL, "limits": typed, "product": product.pk, **no_rows("lots")}
    response = manager.post(page("records_labelversion_add"), new)
    assert said in response.text
    assert LabelVersion.objects.for_firm(firm).count() == 1


def test_a_member_is_entered_by_e_mail_and_invited(manager, firm):
    entered = {
        "email": "New@example.net",
        "name": "N. Ew",
        "role": "office",
        "active": "on",
    }
    response = manager.post(page("records_membership_add"), entered)
    assert refusals(response) == []
    membership = Membership.objects.for_firm(firm).get(role="office")
    assert (membership.user.email, membership.user.name) == ("new@example.net", "N. Ew")
    assert membership.accepted_at is None
    assert not membership.user.has_usable_password()


def test_a_second_member_of_the_same_name_is_refused_with_what_to_do(manager, firm):
    there = Membership.objects.for_firm(firm).filter(active=True).first().user.name
    entered = {"email": "new@example.net", "name": f" {there.upper()} ", "role": "crew", "active": "on"}
    response = manager.post(page("records_membership_add"), entered)
    assert "Add an initial" in response.text
    assert not User.objects.filter(email="new@example.net").exists()


def test_who_has_an_account_elsewhere_keeps_it_and_its_password(manager, firm, stranger):
    entered = {
        "email": stranger.user.email,
        "name": "X",
        "role": "inspector",
    }
    manager.post(page("records_membership_add"), entered)
    user = User.objects.get(email=stranger.user.email)
    assert user.check_password(PASSWORD)
    assert user.name == stranger.user.name


def test_people_are_never_deleted_but_marked_as_gone(manager, member):
    url = page("records_person_delete", member.person.pk)
    assert manager.post(url, {"post": "yes"}).status_code == 403


@pytest.mark.parametrize("typed", ["6/12", "6 in 12", "6:12"])
def test_a_pitch_typed_as_on_a_drawing_is_answered_with_where_each_number_goes(manager, firm, typed):
    rows = {"surfaces-0-name": "Main roof", "surfaces-0-kind": "roof", "surfaces-0-rise": typed}
    counts = no_rows("surfaces", "features") | {"surfaces-TOTAL_FORMS": "1"}
    customer = CustomerFactory(firm=firm).pk
    page_again = manager.post(page("records_site_add"), {**SITE, "customer": customer, **counts, **rows})
    assert "These are two numbers: enter 6 as the rise and 12 as the run." in page_again.text
    assert not Site.objects.for_firm(firm).exists()


@pytest.mark.parametrize(("language", "words"), [("en", "multiple dwelling"), ("es", "edificio de viviendas")])
def test_lists_and_filters_say_a_closed_list_in_words(manager, firm, language, words):
    site = SiteFactory(firm=firm, use="multiple-dwelling")
    pages = (page("records_site_changelist"), page("records_customer_change", site.customer.pk))
    listed, of_customer = (manager.get(each, headers={"accept-language": language}).text for each in pages)
    assert f">{words}</td>" in listed and f">{words}</a>" in listed
    assert words in of_customer
    assert ">multiple-dwelling<" not in listed + of_customer


def test_the_past_of_a_row_is_shown_with_who_changed_it(manager, colleague, firm):
    surface = SurfaceFactory(firm=firm)
    customer = surface.site.customer
    changed = {"name": "A. Marlowe-Finch", "language": "en", "country": "US", **no_rows("sites")}
    response = manager.post(page("records_customer_change", customer.pk), changed)
    assert refusals(response) == []
    shown = manager.get(page("records_customer_history", customer.pk)).text
    assert colleague.user.name in shown


@pytest.mark.parametrize(
    ("column", "typed", "said"),
    [
        ("time_zone", "Pacific/Los_Angeles", "unknown time zone Pacific/Los_Angeles"),
        ("time_zone", "../../etc/passwd", "unknown time zone ../../etc/passwd"),
        ("jurisdictions", "us, ../../etc", "expected a place or authority such as us-wa"),
        ("jurisdictions", "us-wa, us", "us is wider than us-wa"),
        ("country", "us", "two letters"),
    ],
)
def test_a_site_takes_only_what_its_records_could_be_written_with(manager, firm, column, typed, said):
    site = SiteFactory(firm=firm)
    changed = {**SITE, "customer": site.customer_id, column: typed, **no_rows("surfaces", "features")}
    response = manager.post(page("records_site_change", site.pk), changed)
    assert said in unescape(response.text)
    site.refresh_from_db()
    assert getattr(site, column) != typed


@pytest.mark.parametrize(
    ("column", "typed", "said"),
    [
        ("time_zone", "Pacific/Los_Angeles", "unknown time zone"),
        ("jurisdictions", "../../etc", "expected a place or authority"),
    ],
)
def test_a_firm_takes_only_a_zone_and_places_that_there_can_be(manager, firm, column, typed, said):
    own = {"name": firm.name, "paper": "letter", "language": "en", "time_zone": "America/Los_Angeles"}
    changed = {**own, column: typed, **no_rows("licence_set", "membership_set", "+", "+-2")}
    response = manager.post(page("records_firm_change", firm.pk), changed)
    assert said in response.text
    firm.refresh_from_db()
    assert (firm.time_zone, firm.jurisdictions) == ("America/Los_Angeles", ["us", "us-wa"])


def test_a_day_outside_of_the_years_of_documents_is_refused_with_a_sentence(manager, firm):
    product = LabelVersionFactory(firm=firm).product
    new = {**LABEL, "valid_to": "9999-12-31", "product": product.pk, **no_rows("lots")}
    response = manager.post(page("records_labelversion_add"), new)
    assert "Give a year from 1900 to 2199." in response.text
    assert LabelVersion.objects.for_firm(firm).count() == 1


def test_when_a_tank_was_filled_is_typed_and_shown_on_the_firms_clock(manager, firm):
    batch = BatchFactory(firm=firm, mixed_at=datetime.fromisoformat("2026-09-14T08:30:00-07:00"))
    address = page("records_batch_change", batch.pk)
    shown = manager.get(address)
    assert 'name="mixed_at_1" value="08:30:00"' in shown.text
    form = shown.context["adminform"].form
    fields = {f"{name}": form[name].value() for name in ("rig", "volume", "mixed_at_place")}
    fields |= {"products": json.dumps(batch.products), "diluent": json.dumps(batch.diluent)}
    typed = {**fields, "volume": "30 gal", "mixed_at_0": "2026-09-14", "mixed_at_1": "07:00:00"}
    assert refusals(manager.post(address, typed)) == []
    batch.refresh_from_db()
    assert batch.mixed_at == datetime.fromisoformat("2026-09-14T07:00:00-07:00")
