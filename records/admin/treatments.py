"""Treatments and what is signed, to be looked at: they are edited on the form and corrected on their page."""

import json
from decimal import Decimal
from fractions import Fraction
from typing import Any

from django.contrib import admin
from django.utils.html import format_html
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from records import models
from records.admin.base import FirmAdmin, FirmForm, FirmTabularInline, ReadOnly, ReferenceAdmin
from records.document.words import label
from shared.quantities import BASE_UNITS, from_fraction


class ByName:
    """Who signed, by name: accounts are not the managers' to open."""

    @admin.display(description=_("by"))
    def signer(self, row: models.SignedRecord | models.SignedFollowUp) -> str:
        return row.by.name


class ProductLineInline(ReadOnly, FirmTabularInline):
    model = models.TreatmentProduct
    verbose_name_plural = _("products")
    fields = readonly_fields = ("name", "registration_number", "lot", "mixed", "applied")

    @admin.display(description=_("went into the mix"))
    def mixed(self, line: models.TreatmentProduct) -> str:
        return said(line.mixed_volume, "volume") or said(line.mixed_mass, "mass") or "–"

    @admin.display(description=_("applied"))
    def applied(self, line: models.TreatmentProduct) -> str:
        return said(line.applied_volume, "volume") or said(line.applied_mass, "mass") or "–"


class SignedRecordInline(ByName, ReadOnly, FirmTabularInline):
    model = models.SignedRecord
    fk_name = "treatment"
    fields = ("version", "kind", "signer", "received_at", "reason", "digest")
    readonly_fields = ("signer",)
    show_change_link = True


def said(base: Decimal | None, dimension: str) -> str:
    """A projected amount as a person reads it, empty where there is none."""
    if base is None:
        return ""
    return from_fraction(Fraction(base), BASE_UNITS[dimension]).say(get_language() or "en")


def shown_json(value: Any) -> str:
    """A JSON value laid out to be read, folded up."""
    return format_html(
        "<details><summary>JSON</summary><pre>{}</pre></details>",
        json.dumps(value, indent=2, ensure_ascii=False),
    )


@admin.register(models.Treatment)
class TreatmentAdmin(ReadOnly, FirmAdmin):
    list_display = (
        "number",
        "day",
        "site_name",
        "customer_name",
        "products",
        "applicators",
        "state",
        "outcome",
    )
    list_filter = ("state",)
    search_fields = ("number", "site_name", "customer_name", "products", "applicators")
    date_hierarchy = "day"
    fields = (
        "number", "state", "day", "planned_at", "planner", "site", "customer_name", "applicators",
        "products", "result_in_words", "area", "revision", "whole_document",
    )  # fmt: skip
    inlines = (ProductLineInline, SignedRecordInline)

    @admin.display(description=_("planned by"))
    def planner(self, treatment: models.Treatment) -> str:
        return treatment.planned_by.name

    @admin.display(description=_("result"))
    def result_in_words(self, treatment: models.Treatment) -> str:
        return treatment.result and label("result", treatment.result, get_language() or "en")

    @admin.display(description=_("treated area"))
    def area(self, treatment: models.Treatment) -> str:
        return said(treatment.treated_area, "area") or "–"

    @admin.display(description=_("document"))
    def whole_document(self, treatment: models.Treatment) -> str:
        return shown_json(treatment.document)


class FollowUpInline(ByName, ReadOnly, FirmTabularInline):
    model = models.SignedFollowUp
    fields = ("kind", "at", "signer", "received_at", "digest")
    readonly_fields = ("signer",)


@admin.register(models.SignedRecord)
class SignedRecordAdmin(ByName, ReadOnly, FirmAdmin):
    list_display = ("treatment", "version", "kind", "signer", "received_at")
    list_filter = ("kind",)
    list_select_related = ("treatment", "by")
    search_fields = ("treatment__number", "digest", "document_digest")
    fields = (
        "treatment", "version", "kind", "reason", "signer", "received_at", "digest", "document_digest", "key",
        "signed_record", "signed_sections",
    )  # fmt: skip
    inlines = (FollowUpInline,)

    @admin.display(description=_("record"))
    def signed_record(self, record: models.SignedRecord) -> str:
        return shown_json(json.loads(bytes(record.record)))

    @admin.display(description=_("sections"))
    def signed_sections(self, record: models.SignedRecord) -> str:
        return shown_json(record.sections)


@admin.register(models.SigningKey)
class SigningKeyAdmin(ReadOnly, FirmAdmin):
    list_display = ("digest", "made_at")
    fields = ("digest", "public_key", "made_at")

    @admin.display(description=_("public key"))
    def public_key(self, key: models.SigningKey) -> str:
        return bytes(key.public).hex()


@admin.register(models.PaperCertificate)
class PaperCertificateAdmin(ReadOnly, FirmAdmin):
    list_display = fields = ("fingerprint", "made_at")


@admin.register(models.Batch)
class BatchAdmin(ReferenceAdmin):
    form = FirmForm
    list_display = ("mixed_at", "rig", "volume", "left_over", "mixed_at_place")
    list_select_related = ("rig",)
    date_hierarchy = "mixed_at"
