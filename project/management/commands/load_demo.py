"""`manage.py load_demo`: load the invented firms once, and keep their sign-ins under VAR_DIR."""

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand
from django.db import transaction

from project.demo import sign_ins
from project.demo.load import Storyteller
from project.demo.rows import make_rows
from project.demo.source import read_firm
from records.models import User
from shared import clock

FIRMS = ("quillfeather", "lanternwick", "marram")


class Command(BaseCommand):
    help = "Load the invented demo firms into an empty database; does nothing if anybody has an account."

    def handle(self, *args: Any, **options: Any) -> None:
        if User.objects.exists():
            self.stdout.write("There are accounts already: nothing was loaded.")
            return
        self.stdout.write("Loading the demo firms: two years of invented work, about a minute …")
        sources = [read_firm(name) for name in FIRMS]
        pass_phrases = {
            email: phrase for source in sources for email, phrase in sign_ins.new_pass_phrases(source).items()
        }
        with transaction.atomic():
            for source in sources:
                Storyteller(source, make_rows(source, pass_phrases)).play(clock.now())
        sign_ins.write(Path(settings.VAR_DIR) / sign_ins.FILE_NAME, sources, pass_phrases)
        self.stdout.write("Loaded.")
