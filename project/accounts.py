"""Who may have an account: only those whom a firm's manager has entered."""

from allauth.account.adapter import DefaultAccountAdapter
from django.http import HttpRequest

from records.asked_from import asked_from


class InvitedOnly(DefaultAccountAdapter):
    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False

    def get_client_ip(self, request: HttpRequest) -> str:
        """By which tries are counted: else all who come through a proxy would be one."""
        return asked_from(request.META)
