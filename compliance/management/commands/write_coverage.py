"""Write docs/coverage.md: which duties each rule pack states."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand

from compliance.coverage_text import coverage_text
from compliance.pack_reader import registered_packs


class Command(BaseCommand):
    help = "Write docs/coverage.md from the rule packs."

    def handle(self, *args: Any, **options: Any) -> None:
        path = settings.BASE_DIR / "docs" / "coverage.md"
        path.write_text(coverage_text(registered_packs()) + "\n", encoding="utf-8")
        self.stdout.write(str(path))
