"""What the customer gets before the work and after it."""

from compliance.papers.customer.after import after
from compliance.papers.customer.before import before
from compliance.papers.customer.content import CustomerPaper
from compliance.papers.customer.drawing import draw, text_of

__all__ = ["CustomerPaper", "after", "before", "draw", "text_of"]
