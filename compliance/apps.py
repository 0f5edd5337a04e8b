from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class ComplianceConfig(AppConfig):
    name = "compliance"
    verbose_name = _("Compliance")

    def ready(self) -> None:
        from compliance import (  # noqa: F401 - they register themselves
            checks,
            erased_terms,
            hooked,
            permissions,
            stored_checks,
            worded,
        )
