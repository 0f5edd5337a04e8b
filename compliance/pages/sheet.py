"""A phone's sheet of a treatment with the limits and musts that it can tell by itself."""

from typing import Any

from compliance.pages.phone_sheet import sheet_of
from records.models import Treatment
from records.pages.sheet import SheetPage


class CheckedSheetPage(SheetPage):
    def tell(self, treatment: Treatment) -> dict[str, Any]:
        return {"rules": sheet_of(treatment)}
