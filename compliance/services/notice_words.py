"""The firm's own words on its notices."""

from django.db import transaction

from compliance.models import NoticeWords
from records.models import Firm


def own_words_of(firm: Firm) -> dict[str, str]:
    """The words by language."""
    return {row.language: row.text for row in NoticeWords.objects.for_firm(firm)}


@transaction.atomic
def set_own_words(firm: Firm, language: str, text: str) -> None:
    """Set the words of one language; none takes them away. Raises ValidationError for what may not be said."""
    row = NoticeWords.objects.for_firm(firm).filter(language=language).first()
    if not text.strip():
        if row:
            row.delete()
        return
    row = row or NoticeWords(firm=firm, language=language)
    row.text = text.strip()
    row.full_clean()
    row.save()
