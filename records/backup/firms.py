"""The firms of the machine, all of which one backup holds."""

from records.models import Firm, User


def firms() -> list[Firm]:
    return list(Firm.across_firms.order_by("name"))


def any_data() -> bool:
    """Whether there is an account or a firm; the tables are there."""
    return User.objects.exists() or Firm.across_firms.exists()
