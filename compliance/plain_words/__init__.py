"""Rules in plain words, as a manager reads them aloud to an inspector. Pure."""

from compliance.plain_words.points import Point
from compliance.plain_words.rules import RuleSheet, rule_sheets

__all__ = ["Point", "RuleSheet", "rule_sheets"]
