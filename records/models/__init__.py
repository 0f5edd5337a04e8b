"""The rows of what happened: reference data with history, treatments, and what is signed."""

from records.models.accountability import MisuseAlert, MisuseLookedAt, SignatureDeclaration
from records.models.accounts import User
from records.models.arrivals import ArrivalFile, ArrivedRow
from records.models.audit import AuditEntry
from records.models.certificates import PaperCertificate
from records.models.devices import DeviceKey, KeyRevocation, LaterFit, LookedAt, Seal
from records.models.firms import Firm, Membership
from records.models.hooks import Hook, HookCall
from records.models.incidents import Incident, IncidentEntry, IncidentErasure
from records.models.keeping import Erasure, HoldLifted, LegalHold
from records.models.key_changes import KeyChange
from records.models.log import HeadTimeStamp, LogEntry, LogNode, TreeHead
from records.models.log_looks import LogLook
from records.models.neighbours import Neighbour, NeighbourList, Occupant, Parcel
from records.models.notice_parts import KeptBytes, NotByMeans, NoticeFile, NoticeTask
from records.models.notices import Attempt, Notice, NoticeErasure
from records.models.people import Licence, Person
from records.models.people_files import PeopleFile, Register
from records.models.photos import Photo
from records.models.places import Customer, Feature, Site, Surface
from records.models.products import LabelVersion, Lot, Product
from records.models.programs import KeptAnswer, ProgramToken
from records.models.proofs import ProofAddress
from records.models.register import RegisterTerm, SavedView, TreatmentTerm
from records.models.registers import RegisteredPerson
from records.models.rigs import Batch, Calibration, Rig
from records.models.signed import SignedFollowUp, SignedRecord, SigningKey
from records.models.stock import StockMove
from records.models.treatments import NumberSeries, Treatment, TreatmentEdit, TreatmentProduct
from records.models.way_out import WayOut

__all__ = [
    "ArrivalFile",
    "ArrivedRow",
    "Attempt",
    "AuditEntry",
    "Batch",
    "Calibration",
    "Customer",
    "DeviceKey",
    "Erasure",
    "Feature",
    "Firm",
    "HeadTimeStamp",
    "HoldLifted",
    "Hook",
    "HookCall",
    "Incident",
    "IncidentEntry",
    "IncidentErasure",
    "KeptAnswer",
    "KeptBytes",
    "KeyChange",
    "KeyRevocation",
    "LabelVersion",
    "LaterFit",
    "LegalHold",
    "Licence",
    "LogEntry",
    "LogLook",
    "LogNode",
    "LookedAt",
    "Lot",
    "Membership",
    "MisuseAlert",
    "MisuseLookedAt",
    "Neighbour",
    "NeighbourList",
    "NotByMeans",
    "Notice",
    "NoticeErasure",
    "NoticeFile",
    "NoticeTask",
    "NumberSeries",
    "Occupant",
    "PaperCertificate",
    "Parcel",
    "PeopleFile",
    "Person",
    "Photo",
    "Product",
    "ProgramToken",
    "ProofAddress",
    "Register",
    "RegisterTerm",
    "RegisteredPerson",
    "Rig",
    "SavedView",
    "Seal",
    "SignatureDeclaration",
    "SignedFollowUp",
    "SignedRecord",
    "SigningKey",
    "Site",
    "StockMove",
    "Surface",
    "Treatment",
    "TreatmentEdit",
    "TreatmentProduct",
    "TreatmentTerm",
    "TreeHead",
    "User",
    "WayOut",
]
