"""What a phone keeps to choose from, with what the label of each product limits."""

from typing import Any

from compliance.phone_sheet import label_limits
from records.pages.choices import Choices


class CheckedChoices(Choices):
    def tell(self, kept: dict[str, Any]) -> dict[str, Any]:
        lines = (span["part"] for product in kept["labels"] for span in product["spans"])
        return {"limits": label_limits(lines)}
