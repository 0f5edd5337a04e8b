"""The crew's form and a draft's task list, with what the rules say of them."""

from compliance.pages.remarks import remarks_on
from records.models import Treatment
from records.pages.remarks import Remarks
from records.pages.section import SectionPage


class CheckedSectionPage(SectionPage):
    def remarks(self, treatment: Treatment) -> Remarks:
        return remarks_on(treatment, self.language)
