"""Two firms with a row of every model, for walks that ask whether either sees the other's."""

from datetime import UTC, date, datetime

from cryptography.hazmat.primitives.serialization import Encoding

from compliance.models import (
    CheckContext,
    Determination,
    FiledReport,
    FirmPackVersion,
    HandedLink,
    Handing,
    NoticeWords,
    OwnRules,
    OwnRulesInUse,
    Recheck,
    RecheckResult,
    RecordsRequest,
    RequestAnswer,
    StoredCheck,
    VisitSaid,
    WhatIf,
)
from compliance.stored_form import compressed
from records.certificates import make_certificate
from records.models import (
    ArrivalFile,
    ArrivedRow,
    Attempt,
    DeviceKey,
    Erasure,
    HeadTimeStamp,
    HoldLifted,
    Hook,
    HookCall,
    Incident,
    IncidentEntry,
    IncidentErasure,
    KeptAnswer,
    KeptBytes,
    KeyChange,
    KeyRevocation,
    LaterFit,
    LegalHold,
    LogEntry,
    LogLook,
    LogNode,
    LookedAt,
    Membership,
    MisuseAlert,
    MisuseLookedAt,
    NeighbourList,
    NotByMeans,
    Notice,
    NoticeErasure,
    NoticeFile,
    NoticeTask,
    PaperCertificate,
    PeopleFile,
    Photo,
    ProgramToken,
    ProofAddress,
    SavedView,
    Seal,
    SignedFollowUp,
    SignedRecord,
    SigningKey,
    TreatmentEdit,
    TreeHead,
    WayOut,
)
from records.services.planning import Plan, PlannedProduct, plan_treatment
from tests.factories import (
    BatchFactory,
    CalibrationFactory,
    FeatureFactory,
    LicenceFactory,
    LotFactory,
    NeighbourFactory,
    OccupantFactory,
    ParcelFactory,
    RegisteredPersonFactory,
    StockMoveFactory,
    SurfaceFactory,
)

AT = datetime(2026, 9, 14, 16, 0, tzinfo=UTC)


def furnish(membership: Membership) -> None:
    """A row of every model for the membership's firm."""
    firm, user = membership.firm, membership.user
    surface = SurfaceFactory(firm=firm)
    FeatureFactory(firm=firm, site=surface.site)
    LicenceFactory(firm=firm)
    lot = LotFactory(firm=firm)
    BatchFactory(firm=firm)
    StockMoveFactory(lot=lot, by=user)
    CalibrationFactory(firm=firm)
    plan = Plan(
        site=surface.site,
        surfaces=[surface],
        planned_at=AT,
        products=[PlannedProduct(lot.label.product, lot)],
    )
    treatment = plan_treatment(firm, user, plan)
    TreatmentEdit.objects.create(treatment=treatment, edit_id="e", path="notes", revision=1, by=user)
    Photo.objects.create(treatment=treatment, sha256="ab" * 32, bytes=1, by=user)
    notice = Notice.objects.create(
        treatment=treatment, site=treatment.site, key="k", digest="d", planned_at=AT, made_by=user
    )
    Attempt.objects.create(notice=notice, kind="later")
    kept = KeptBytes.objects.create(firm=firm, digest="d", content=b"")
    NoticeFile.objects.create(notice=notice, place=0, kept=kept)
    NoticeTask.objects.create(notice=notice, kind="refused")
    NoticeErasure.objects.create(notice=notice)
    NotByMeans.objects.create(firm=firm, means="email", reached="marlowe@example.net", by=user)
    key = SigningKey.objects.create(firm=firm, digest=f"sha256:{firm.pk.hex}", public=b"")
    certificate = make_certificate(firm.name, AT).certificate.public_bytes(Encoding.DER)
    PaperCertificate.objects.create(firm=firm, fingerprint=f"f{firm.pk.hex}", certificate=certificate)
    record = SignedRecord.objects.create(
        treatment=treatment, version=1, kind="signed", record=b"{}", digest=str(firm.pk), section_lines=b"",
        document_digest="", revision=0, key=key, by=user,
    )  # fmt: skip
    SignedFollowUp.objects.create(
        follows=record, kind="note", at=AT, record=b"{}", digest=str(firm.pk), follow_up={}, key=key, by=user
    )
    ProofAddress.objects.create(firm=firm, record=record)
    LogEntry.objects.create(firm=firm, index=0, leaf=b"", record=record)
    LogNode.objects.create(firm=firm, level=1, place=0, hash=b"")
    head = TreeHead.objects.create(firm=firm, size=1, head={})
    HeadTimeStamp.objects.create(firm=firm, head=head, token=b"", at=AT, authority="Example Time")
    LogLook.objects.create(firm=firm, entries=1, root="", faults=0)
    newer = SigningKey.objects.create(firm=firm, digest=f"sha256:newer-{firm.pk.hex}", public=b"")
    KeyChange.objects.create(firm=firm, key=newer, replaces=key, lost=False, record=b"{}", digest=str(firm.pk))
    device = DeviceKey.objects.create(firm=firm, by=user, device="Phone", public=b"", digest=f"d{firm.pk.hex}")
    KeyRevocation.objects.create(key=device, firm=firm, by=user)
    seal = Seal.objects.create(
        firm=firm, treatment=treatment, key=device, by=user, document=b"{}", digest="", value="",
        claimed_at=AT, device_at=AT, sent_at=AT, asks=True,
    )  # fmt: skip
    LaterFit.objects.create(firm=firm, seal=seal, signed_record=record)
    LookedAt.objects.create(firm=firm, seal=seal, by=user)
    alert = MisuseAlert.objects.create(firm=firm, user=user, tries=5, since=AT)
    MisuseLookedAt.objects.create(firm=firm, alert=alert, by=user)
    ProgramToken.objects.create(firm=firm, user=user, name="Books", digest=f"t{firm.pk.hex}", expiry=AT)
    hook = Hook.objects.create(firm=firm, name="Books", address="https://example.net/", by=user)
    HookCall.objects.create(firm=firm, hook=hook, event="trial", body={})
    KeptAnswer.objects.create(firm=firm, by=user, key="k", asked="")
    SavedView.objects.create(firm=firm, by=user, name="North", search={"county": "north"})
    file = ArrivalFile.objects.create(firm=firm, name="log.csv", sha256="0" * 64, size=0, content=b"", by=user)
    ArrivedRow.objects.create(firm=firm, file=file, place=0, row=2)
    hold = LegalHold.objects.create(firm=firm, treatment=treatment, reason="a claim", by=user)
    HoldLifted.objects.create(firm=firm, hold=hold, reason="settled", by=user)
    Erasure.objects.create(
        firm=firm, treatment=treatment, sections=[], kept_until=date(2026, 1, 1), under=[],
        on=AT.date(), by=user,
    )  # fmt: skip
    check = StoredCheck.objects.create(
        treatment=treatment, signed_record=record, occasion="signing", on=AT.date(), outcome="met",
        body=compressed({}), digest="",
    )  # fmt: skip
    CheckContext.objects.create(check_made=check, body=compressed({}))
    FirmPackVersion.objects.create(firm=firm, pack="firm", layer="firm", digest="", content=b"")
    run = Recheck.objects.create(firm=firm, packs_of="today", total=1)
    RecheckResult.objects.create(run=run, base=check)
    version = OwnRules.objects.create(firm=firm, version=1, rules=[], change="added", by=user)
    OwnRulesInUse.objects.create(firm=firm, version=version, by=user)
    WhatIf.objects.create(firm=firm, version=version, since=date(2026, 1, 1), total=0)
    NoticeWords.objects.create(firm=firm, language="en", text="We park on the street.")
    VisitSaid.objects.create(firm=firm, treatment=treatment)
    Determination.objects.create(firm=firm, question="q", answer="no", by="J.", valid_from=date(2026, 1, 1))
    request = RecordsRequest.objects.create(
        firm=firm, asked_by="court", name="M. Reyes", received_at=AT, means="letter", asked_for="All.",
        handled_by=user,
    )  # fmt: skip
    handing = Handing.objects.create(firm=firm, request=request, by=user, to="M. Reyes", treatments=[])
    RequestAnswer.objects.create(
        firm=firm, request=request, handing=handing, by=user, to="M. Reyes", how="by post", treatments=[],
        digest="", size=0,
    )  # fmt: skip
    HandedLink.objects.create(firm=firm, handing=handing, made_by=user, until=AT, address_digest=firm.pk.hex)
    incident = Incident.objects.create(
        firm=firm, kind="spill", treatment=treatment, happened_at=AT, known_at=AT, begun_by=user
    )
    IncidentEntry.objects.create(firm=firm, incident=incident, kind="note", at=AT, by=user)
    IncidentErasure.objects.create(firm=firm, incident=incident)
    FiledReport.objects.create(
        firm=firm, rule="us-ca/report/monthly", period="2026-08", sent_on=AT.date(), how="by post", content={},
        digest="", by=user,
    )  # fmt: skip
    site = treatment.site
    WayOut.objects.create(firm=firm, by=user)
    NeighbourFactory(firm=firm, site=site, parcel=ParcelFactory(firm=firm, site=site))
    OccupantFactory(firm=firm, site=site)
    RegisteredPersonFactory(firm=firm)
    NeighbourList.objects.create(firm=firm, site=site, as_of=AT.date(), by=user)
    PeopleFile.objects.create(firm=firm, kind="parcels", site=site, source="county", as_of=AT.date(), by=user)
