"""The rules that a firm writes for itself: as it typed them, and the pack that is read from them. Pure."""

from compliance.own_rules.conditions import Group, Row
from compliance.own_rules.pack import OwnExample, OwnRule, own_pack
from compliance.own_rules.trial import Trial, try_rule

__all__ = ["Group", "OwnExample", "OwnRule", "Row", "Trial", "own_pack", "try_rule"]
