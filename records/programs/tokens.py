"""Who calls with a token: the person it works for, in the one firm it is for."""

from datetime import timedelta
from typing import Any

from django.utils.translation import gettext_lazy as _
from drf_spectacular.extensions import OpenApiAuthenticationExtension
from knox.auth import TokenAuthentication
from knox.crypto import hash_token
from rest_framework.exceptions import AuthenticationFailed

from records.models import ProgramToken, User
from shared import clock

AN_HOUR = timedelta(hours=1)
OF_TOKEN = "firm_of_token"  # noqa: S105 - the name of an attribute


class ByToken(TokenAuthentication):
    """`Authorization: Bearer …` (RFC 6750). The request then works in the token's firm."""

    def authenticate(self, request: Any) -> tuple[User, ProgramToken] | None:
        found: tuple[User, ProgramToken] | None = super().authenticate(request)
        if found:
            setattr(request._request, OF_TOKEN, found[1].firm_id)
        return found

    def authenticate_credentials(self, token: bytes) -> tuple[User, ProgramToken]:
        digest = hash_token(token.decode("latin-1"))
        row = ProgramToken.across_firms.select_related("user", "firm").filter(digest=digest).first()
        if row is None or row.is_over or not row.user.is_active:
            raise AuthenticationFailed(_("This token is not known, has ended or is out of date."))
        now = clock.now()
        if row.used_at is None or row.used_at < now - AN_HOUR:
            ProgramToken.objects.for_firm(row.firm).filter(pk=row.pk).update(used_at=now)
        return row.user, row


class TokenScheme(OpenApiAuthenticationExtension):
    target_class = ByToken
    name = "token"

    def get_security_definition(self, auto_schema: Any) -> dict[str, str]:
        return {"type": "http", "scheme": "bearer", "description": "A token, made on the page /programs/."}
