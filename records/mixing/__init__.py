"""Mixing arithmetic: from area, coverage and dilution to product, diluent and tank loads."""

from records.mixing.dilution import Dilution, read_dilution
from records.mixing.errors import MixError
from records.mixing.plan import Load, MixPlan, plan_mix
from records.mixing.wordings import WORDINGS, Sentence

__all__ = ["WORDINGS", "Dilution", "Load", "MixError", "MixPlan", "Sentence", "plan_mix", "read_dilution"]
