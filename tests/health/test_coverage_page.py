from compliance.coverage_text import coverage_text
from compliance.pack_reader import registered_packs
from tests.health.committed import ROOT


def test_the_table_of_coverage_is_the_one_that_the_packs_give():
    page = (ROOT / "docs" / "coverage.md").read_text(encoding="utf-8")
    assert page == coverage_text(registered_packs()) + "\n", "run manage.py write_coverage"
