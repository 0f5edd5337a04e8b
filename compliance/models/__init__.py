"""What was found about treatments, by which packs, what a firm demands of itself, and re-checks."""

from compliance.models.checks import CheckContext, StoredCheck
from compliance.models.packs import FirmPackVersion, PacksInUse, PackVersion
from compliance.models.policies import Determination, FirmPolicy
from compliance.models.rechecks import Recheck, RecheckResult

__all__ = [
    "CheckContext",
    "Determination",
    "FirmPackVersion",
    "FirmPolicy",
    "PackVersion",
    "PacksInUse",
    "Recheck",
    "RecheckResult",
    "StoredCheck",
]
