"""A person says once in each firm, before the first signature, that their signature binds them."""

from django.db import transaction

from records.models import AuditEntry, Firm, SignatureDeclaration, User
from records.permissions import demand
from records.services.audit import note
from shared.wording import Wording

DECLARATION = Wording(
    "My signature in this log, given with my password, a passkey, or the key and PIN of my device, binds me as "
    "one by my own hand does. I alone know and use them, and I tell the firm's manager at once if somebody "
    "else may have.",
    "Mi firma en este libro, dada con mi contraseña, una llave de acceso o la clave y el PIN de mi "
    "dispositivo, me obliga igual que una de mi puño y letra. Solo yo los conozco y los uso, y aviso enseguida "
    "a quien dirige la empresa si otra persona pudo haberlos usado.",
)


def declaration_of(firm: Firm, user: User) -> SignatureDeclaration | None:
    """What the person has declared in this firm; None for who has not yet."""
    return SignatureDeclaration.objects.for_firm(firm).filter(by=user).first()


@transaction.atomic
def declare(firm: Firm, user: User, language: str) -> SignatureDeclaration:
    """Keep that the person has read and accepted the words in this language; twice is once.

    Raises PermissionDenied for who may not sign.
    """
    demand(user, "records.sign_treatment", firm)
    row, new = SignatureDeclaration.objects.for_firm(firm).get_or_create(
        by=user, defaults={"firm": firm, "words": DECLARATION.say(language)}
    )
    if new:
        note(AuditEntry.Kind.DECLARED, row, firm=firm, by=user)
    return row
