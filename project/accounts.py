"""Who may have an account: only those whom a firm's manager has entered."""

from allauth.account.adapter import DefaultAccountAdapter
from django.http import HttpRequest


class InvitedOnly(DefaultAccountAdapter):
    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False
