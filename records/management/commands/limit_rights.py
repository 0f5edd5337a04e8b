"""`manage.py limit_rights ROLE`: what the service's own PostgreSQL role may do, granted by the owner's."""

import sys
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand
from django.db import connection, transaction

from shared.orm.rights import grants
from shared.wording import LANGUAGES, Wording, fill

BAD_INPUT = 2
_NO_ROLES = Wording(
    "SQLite has no roles; there the triggers and the rights on the file guard what is signed.",
    "SQLite no tiene roles; ahí lo firmado lo guardan los disparadores y los permisos del archivo.",
)
_NO_ROLE = Wording(
    "There is no role {role} in this database.", "No hay ningún rol {role} en esta base de datos."
)
_OWNER = Wording(
    "{role} owns tables here, or you are connected as it: its rights can't be limited. Name another.",
    "{role} es dueño de tablas aquí, o usted está conectado con él: sus permisos no se pueden limitar. "
    "Indique otro.",
)
_DONE = Wording(
    "{role} may read and add signed rows, the log and who did what, and neither change nor remove them.",
    "{role} puede leer y añadir filas firmadas, el registro de firmas y quién hizo qué, y no cambiarlas ni "
    "quitarlas.",
)


class Command(BaseCommand):
    """Exit code 0: granted; 2: bad input."""

    help = "Grant the service's PostgreSQL role no more than it needs. Run it as the owner, after each migrate."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("role", help="the role in the service's DATABASE_URL; the owner's stands in yours")
        parser.add_argument("--language", choices=LANGUAGES, default="en")

    def handle(self, *_arguments: Any, **options: Any) -> None:
        role, language = options["role"], options["language"]
        if refusal := self._refusal(role):
            self.stderr.write(fill(refusal, {"role": role}, language))
            sys.exit(BAD_INPUT)
        with transaction.atomic(), connection.cursor() as cursor:
            for statement in grants(connection, role):
                cursor.execute(statement)
        self.stdout.write(fill(_DONE, {"role": role}, language))

    def _refusal(self, role: str) -> Wording | None:
        if connection.vendor != "postgresql":
            return _NO_ROLES
        with connection.cursor() as cursor:
            cursor.execute("SELECT rolname FROM pg_roles WHERE rolname = %s", [role])
            if cursor.fetchone() is None:
                return _NO_ROLE
            cursor.execute(
                "SELECT 1 FROM pg_tables WHERE schemaname = 'public' AND tableowner = %s"
                " UNION ALL SELECT 1 WHERE current_user = %s"
                " UNION ALL SELECT 1 FROM pg_roles WHERE rolname = %s AND rolsuper",
                [role, role, role],
            )
            return _OWNER if cursor.fetchone() else None
