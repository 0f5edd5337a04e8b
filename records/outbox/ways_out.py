"""By which means the machine can send at all, as the service and the firm are set up."""

from django.conf import settings

from records.models import Firm


def closed(firm: Firm) -> frozenset[str]:
    """The means that lead nowhere: there is no mail server, or no sender of text messages."""
    there = {"email": settings.MAIL_GOES_OUT, "text-message": bool(firm.text_message_address)}
    return frozenset(means for means, leads_out in there.items() if not leads_out)
