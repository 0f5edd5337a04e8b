"""Where a notice's own page is, and how a message leads there."""

from django.conf import settings
from django.urls import reverse
from django.utils import translation
from django.utils.translation import gettext

from records.models import Notice


def page_address(notice: Notice) -> str:
    return settings.BASE_ADDRESS + reverse("told", kwargs={"token": notice.token})


def link_lines(notice: Notice) -> str:
    """The address with what it is for, in each language of the notice."""
    said = []
    for language in notice.languages or [notice.firm.language]:
        with translation.override(language):
            said.append(gettext("See whether anything changes, and answer, here:"))
    return "\n".join([*said, page_address(notice)])
