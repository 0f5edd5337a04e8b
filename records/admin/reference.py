"""Admin pages of the reference data: people, places, products and rigs."""

from typing import Any

from django.contrib import admin
from django.http import HttpRequest
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from records import models
from records.admin.base import FirmForm, FirmStackedInline, FirmTabularInline, NeverDeleted, ReferenceAdmin
from records.admin.fields import ListField, PitchField
from records.admin.label_form import LabelVersionForm

ADDRESS = ("line1", "line2", ("city", "region"), ("postcode", "country"))


class LicenceForm(FirmForm):
    categories = ListField(
        label=_("categories"), required=False, help_text=_("With commas between them: ornamental-turf")
    )

    class Meta:
        model = models.Licence
        exclude = ("firm",)


class LicenceInline(FirmTabularInline):
    model = models.Licence
    form = LicenceForm
    exclude = ("holder",)
    fk_name = "person"


@admin.register(models.Person)
class PersonAdmin(NeverDeleted, ReferenceAdmin):
    list_display = ("name", "role", "phone", "trained_on", "licences_until", "active")
    list_filter = ("active", "role")
    search_fields = ("name", "phone")
    fieldsets = (
        (None, {"fields": ("name", "role", "phone", "trained_on", "active")}),
        (_("Own address, if it is not the firm's"), {"classes": ("collapse",), "fields": ADDRESS}),
    )
    inlines = (LicenceInline,)

    def get_queryset(self, request: HttpRequest) -> Any:
        return super().get_queryset(request).prefetch_related("licences")

    @admin.display(description=_("licences until"))
    def licences_until(self, person: models.Person) -> str:
        last = [str(licence.valid_to) for licence in person.licences.all() if licence.valid_to]
        return max(last, default="–")


class SiteForm(FirmForm):
    jurisdictions = ListField(
        label=_("places whose rules apply"), required=False, help_text=_("From wide to narrow: us, us-wa")
    )

    class Meta:
        model = models.Site
        exclude = ("firm",)


class SurfaceForm(FirmForm):
    class Meta:
        model = models.Surface
        exclude = ("firm",)
        field_classes = {"rise": PitchField, "run": PitchField}


class SurfaceInline(FirmTabularInline):
    model = models.Surface
    form = SurfaceForm
    readonly_fields = ("area_on_the_slope",)

    @admin.display(description=_("area on the slope"))
    def area_on_the_slope(self, surface: models.Surface) -> str:
        area = surface.slope_area
        return area.say(get_language() or "en") if area else "–"


class FeatureInline(FirmTabularInline):
    model = models.Feature
    form = FirmForm


@admin.register(models.Site)
class SiteAdmin(ReferenceAdmin):
    form = SiteForm
    list_display = ("name", "customer", "city", "use")
    list_filter = ("use", ("customer", admin.RelatedOnlyFieldListFilter))
    list_select_related = ("customer",)
    search_fields = ("name", "line1", "city", "customer__name")
    fieldsets = (
        (None, {"fields": ("customer", "name", *ADDRESS)}),
        (_("Rules"), {"fields": ("county", "jurisdictions", "time_zone", "use", "indoors")}),
        (_("Position"), {"classes": ("collapse",), "fields": (("latitude", "longitude"),)}),
    )
    inlines = (SurfaceInline, FeatureInline)

    def get_changeform_initial_data(self, request: HttpRequest) -> dict[str, Any]:
        firm = self.get_form(request).firm
        own = {"jurisdictions": firm.jurisdictions, "time_zone": firm.time_zone, "country": firm.country}
        return {**own, **super().get_changeform_initial_data(request)}


class SiteInline(FirmTabularInline):
    model = models.Site
    fields = ("name", "line1", "city", "use")
    readonly_fields = fields
    can_delete = False
    show_change_link = True

    def has_add_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


@admin.register(models.Customer)
class CustomerAdmin(ReferenceAdmin):
    list_display = ("name", "phone", "email", "city")
    search_fields = ("name", "phone", "email", "line1", "city")
    fieldsets = ((None, {"fields": ("name", "phone", "email", "language", *ADDRESS)}),)
    inlines = (SiteInline,)


class LabelInline(FirmStackedInline):
    model = models.LabelVersion
    form = LabelVersionForm
    exclude = ("label", "active_ingredients")
    show_change_link = True


@admin.register(models.Product)
class ProductAdmin(ReferenceAdmin):
    list_display = ("name", "kind", "regime", "newest_label", "supplier")
    list_filter = ("kind", "regime")
    search_fields = ("name", "labels__registration_number", "supplier")
    inlines = (LabelInline,)

    def get_queryset(self, request: HttpRequest) -> Any:
        return super().get_queryset(request).prefetch_related("labels")

    @admin.display(description=_("newest label"))
    def newest_label(self, product: models.Product) -> str:
        label = next(iter(product.labels.all()), None)
        return f"{label.registration_number}, {label.version}" if label else "–"


class LotInline(FirmTabularInline):
    model = models.Lot
    form = FirmForm


@admin.register(models.LabelVersion)
class LabelVersionAdmin(ReferenceAdmin):
    form = LabelVersionForm
    list_display = ("product", "version", "registration_number", "signal_word", "valid_from", "valid_to")
    list_filter = (("product", admin.RelatedOnlyFieldListFilter), "signal_word")
    list_select_related = ("product",)
    search_fields = ("product__name", "registration_number", "lots__number")
    inlines = (LotInline,)


class CalibrationInline(FirmTabularInline):
    model = models.Calibration
    form = FirmForm


@admin.register(models.Rig)
class RigAdmin(NeverDeleted, ReferenceAdmin):
    list_display = ("name", "method", "identification", "tank", "last_calibrated", "active")
    list_filter = ("active", "method")
    search_fields = ("name", "identification")
    inlines = (CalibrationInline,)

    def get_queryset(self, request: HttpRequest) -> Any:
        return super().get_queryset(request).prefetch_related("calibrations")

    @admin.display(description=_("last calibrated"))
    def last_calibrated(self, rig: models.Rig) -> str:
        last = next(iter(rig.calibrations.all()), None)
        return str(last.on) if last else "–"
