from io import StringIO
from pathlib import Path

import pytest
from django.core.management import call_command

from tests.migrated import state


@pytest.mark.django_db
def test_every_change_of_a_model_has_its_migration():
    words = StringIO()
    try:
        call_command("makemigrations", "--check", "--dry-run", stdout=words)
    except SystemExit:
        pytest.fail(words.getvalue())


@pytest.mark.parametrize(
    "made_from", ["records/migrations/0001_a.py", "shared/orm/fields.py", "requirements.lock"]
)
def test_the_kept_database_of_the_tests_is_of_no_other_state_of_what_tables_are_made_from(tmp_path, made_from):
    before = state(tmp_path)
    file = Path(tmp_path, made_from)
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text("one")
    added = state(tmp_path)
    file.write_text("other")
    assert len({before, added, state(tmp_path)}) == 3
