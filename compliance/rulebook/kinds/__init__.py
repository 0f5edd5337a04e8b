"""The kinds of rule: an explicit table, one file each."""

from compliance.rulebook.kind import Kind
from compliance.rulebook.kinds.agreement import Agreement
from compliance.rulebook.kinds.cumulative import Cumulative
from compliance.rulebook.kinds.deadline import Deadline
from compliance.rulebook.kinds.interval import Interval
from compliance.rulebook.kinds.licence import Licence
from compliance.rulebook.kinds.limit import Limit
from compliance.rulebook.kinds.notice import Notice
from compliance.rulebook.kinds.permission import Permission
from compliance.rulebook.kinds.posting import Posting
from compliance.rulebook.kinds.ppe import Ppe
from compliance.rulebook.kinds.protection import Protection
from compliance.rulebook.kinds.record import Record
from compliance.rulebook.kinds.report import Report
from compliance.rulebook.kinds.retention import Retention
from compliance.rulebook.kinds.surfaces import Surfaces
from compliance.rulebook.kinds.targets import Targets
from compliance.rulebook.kinds.validity import Validity

KINDS: dict[str, type[Kind]] = {
    kind.name: kind
    for kind in (
        Record,
        Limit,
        Licence,
        Interval,
        Deadline,
        Retention,
        Protection,
        Permission,
        Surfaces,
        Ppe,
        Notice,
        Posting,
        Cumulative,
        Report,
        Agreement,
        Validity,
        Targets,
    )
}
