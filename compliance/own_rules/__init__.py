"""The rules that a firm writes for itself: as it typed them, and the pack that is read from them. Pure."""

from compliance.own_rules.pack import OwnExample, OwnRule, Row, own_pack
from compliance.own_rules.trial import Trial, try_rule

__all__ = ["OwnExample", "OwnRule", "Row", "Trial", "own_pack", "try_rule"]
