"""Who signs in."""

from typing import Any
from uuid import UUID, uuid4

from django.conf import settings
from django.contrib.auth.models import AbstractBaseUser, BaseUserManager, PermissionsMixin
from django.db import models
from django.db.models.functions import Lower
from django.utils.functional import cached_property
from django.utils.translation import gettext_lazy as _

from shared import clock


class UserManager(BaseUserManager["User"]):
    def create_user(self, email: str, password: str | None = None, **values: Any) -> "User":
        user = self.model(email=email.strip().lower(), **values)
        user.set_password(password)
        user.save(using=self._db)
        return user

    def create_superuser(self, email: str, password: str | None = None, **values: Any) -> "User":
        return self.create_user(email, password, is_superuser=True, **values)

    def get_by_natural_key(self, email: str | None) -> "User":
        return self.get(email=(email or "").strip().lower())


class User(AbstractBaseUser, PermissionsMixin):
    """An account, which signs in by e-mail. What it may do in a firm is its membership's to say."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    email = models.EmailField(_("e-mail"), unique=True, help_text=_("Signs in with this address."))
    name = models.CharField(_("name"), max_length=200, help_text=_("As it should stand on a record."))
    language = models.CharField(_("language"), max_length=2, choices=settings.LANGUAGES, default="en")
    is_active = models.BooleanField(_("may sign in"), default=True)
    created_at = models.DateTimeField(_("made at"), default=clock.now, editable=False)

    objects = UserManager()

    USERNAME_FIELD = "email"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        verbose_name = _("user")
        verbose_name_plural = _("users")
        constraints = [models.UniqueConstraint(Lower("email"), name="user_email_in_any_case")]

    def __str__(self) -> str:
        return self.name or self.email

    @cached_property
    def roles(self) -> dict[UUID, str]:
        """This user's role in each firm, by the firm's id."""
        return dict(self.counted_memberships().values_list("firm_id", "role"))

    def counted_memberships(self) -> Any:
        """The memberships that this user has accepted and that were not ended; no others count."""
        memberships = self.memberships(manager="across_firms")
        return memberships.filter(active=True, accepted_at__isnull=False)

    @property
    def is_staff(self) -> bool:
        """Whether the reference data pages are open: to a manager, and to the machine's owner."""
        return self.is_superuser or "manager" in self.roles.values()

    def get_full_name(self) -> str:
        return self.name

    def get_short_name(self) -> str:
        return self.name
