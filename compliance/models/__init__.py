"""What was found about treatments, by which packs, what a firm demands of itself, and re-checks."""

from compliance.models.checks import CheckContext, StoredCheck
from compliance.models.determinations import Determination
from compliance.models.handed_links import HandedLink
from compliance.models.handings import Handing
from compliance.models.notice_words import NoticeWords
from compliance.models.own_rules import OwnRules, OwnRulesInUse, WhatIf
from compliance.models.packs import FirmPackVersion, PacksInUse, PackVersion
from compliance.models.rechecks import Recheck, RecheckResult
from compliance.models.reports import FiledReport
from compliance.models.requests import RecordsRequest, RequestAnswer
from compliance.models.visit_said import VisitSaid

__all__ = [
    "CheckContext",
    "Determination",
    "FiledReport",
    "FirmPackVersion",
    "HandedLink",
    "Handing",
    "NoticeWords",
    "OwnRules",
    "OwnRulesInUse",
    "PackVersion",
    "PacksInUse",
    "Recheck",
    "RecheckResult",
    "RecordsRequest",
    "RequestAnswer",
    "StoredCheck",
    "VisitSaid",
    "WhatIf",
]
