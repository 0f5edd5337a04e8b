from django.apps import AppConfig
from django.core import checks
from django.db.models.signals import post_migrate, pre_migrate
from django.utils.translation import gettext_lazy as _

from shared.orm import triggers


class RecordsConfig(AppConfig):
    name = "records"
    verbose_name = _("Records")

    def ready(self) -> None:
        from records.auditing import accounts, rows
        from records.hooks import noting
        from shared.history import check_history_is_kept

        rows.connect()
        accounts.connect()
        noting.connect()
        pre_migrate.connect(triggers.make_way, dispatch_uid="make way for migrations")
        post_migrate.connect(triggers.install, dispatch_uid="append-only triggers")
        checks.register(triggers.check_triggers, checks.Tags.database)
        checks.register(check_history_is_kept)
