"""Rules that a firm wrote for itself and took into use."""

from compliance.models import OwnRules
from compliance.own_rules import OwnExample, OwnRule
from compliance.services.own_rules import save_rule, take_into_use
from records.models import Firm
from tests.factories import MembershipFactory

CALM = OwnRule(
    "",
    "Calm only",
    "Spray that drifts lands on the neighbour's car.",
    "limit",
    {"quantity": "wind_speed", "max": "8 mph"},
    examples=(
        OwnExample("A light wind", "roof-in-september", "met"),
        OwnExample(
            "8.1 mph", "roof-in-september", "not_met", (("weather.readings[0].wind_speed", "8.1 mph"),)
        ),
    ),
)


def use_own(firm: Firm, rule: OwnRule) -> OwnRules:
    """Save a rule (a change of the firm's first one, if it has a key) and take it into use."""
    manager = MembershipFactory(firm=firm, role="manager").user
    version = save_rule(firm, rule, manager, "a quiet street")
    take_into_use(version, manager)
    return version
