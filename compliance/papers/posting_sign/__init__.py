"""Posting signs to scale, in the size, lettering, colours and words that a rule in force asks for."""

from compliance.papers.posting_sign.content import SignContent, sign_of
from compliance.papers.posting_sign.placement import placement_list, places_of
from compliance.papers.posting_sign.sheet import print_sign

__all__ = ["SignContent", "placement_list", "places_of", "print_sign", "sign_of"]
