"""The sign page takes only what its form could have sent."""

import pytest
from django.urls import reverse

from records.models import SignedRecord
from tests.factories import PASSWORD


@pytest.mark.parametrize(
    "sent",
    [{"revision": "²"}, {"revision": "9" * 5000}, {"finding": "[" * 100_000}],
    ids=lambda sent: next(iter(sent)),
)
def test_what_no_form_sends_signs_nothing_and_is_answered_with_the_page(client, done, member, sent):
    client.force_login(member.user)
    form = {"revision": str(done.revision), "password": PASSWORD, **sent}
    answer = client.post(reverse("sign", kwargs={"uuid": done.pk}), form)
    assert answer.status_code == 422
    assert not SignedRecord.objects.for_firm(done.firm).exists()
