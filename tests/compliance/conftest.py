"""Packs for tests in place of those that are registered."""

from collections.abc import Callable

import pytest

from compliance.rulebook.pack import Pack


@pytest.fixture
def install(monkeypatch) -> Callable[..., None]:
    """Installs packs in place of the registered ones: for checks, for what is kept, and for re-checks."""

    def install(*packs: Pack) -> None:
        for module in ("check", "checks", "services.pack_keeping", "services.recheck_basis"):
            monkeypatch.setattr(f"compliance.{module}.registered_packs", lambda: packs)

    return install
