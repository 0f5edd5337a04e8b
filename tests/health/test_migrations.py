from io import StringIO

import pytest
from django.core.management import call_command


@pytest.mark.django_db
def test_every_change_of_a_model_has_its_migration():
    words = StringIO()
    try:
        call_command("makemigrations", "--check", "--dry-run", stdout=words)
    except SystemExit:
        pytest.fail(words.getvalue())
