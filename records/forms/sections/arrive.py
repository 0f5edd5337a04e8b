"""On arrival: where, what must be protected, what is treated and who does it."""

from django.utils.translation import gettext_lazy as _

from records.forms.table import Block, Folded, FromRows, Items, Question, Section, Shown, Sketch

_PERSON: tuple[Block, ...] = (
    Question("tasks", _("What this person does today"), as_before=True),
    Question(
        "ppe",
        _("Protective equipment worn"),
        _("Wear what the label asks for, at the least."),
        label_asks="mixes[].products[].label.ppe",
        as_before=True,
    ),
    Folded(
        _("Role and supervision"),
        (
            Question("role", _("Role")),
            Question("supervised_by", _("Supervised by"), names="people[].name"),
            Question("supervision", _("How supervised")),
        ),
    ),
)

_SURFACE: tuple[Block, ...] = (
    Question("treated_area", _("Area to treat, along the slope"), unit="ft**2"),
    Folded(
        _("Name, kind, material, pitch"),
        (
            Question("name", _("Name")),
            Question("kind", _("Kind")),
            Question("material", _("Material"), _("For example asphalt shingle, concrete, cedar.")),
            Question("plan_area", _("Plan area"), _("As seen from above."), unit="ft**2"),
            Question("pitch.rise", _("Pitch: rise"), _("6 for a roof that rises 6 in 12.")),
            Question("pitch.run", _("Pitch: run"), _("12 for a roof that rises 6 in 12.")),
        ),
    ),
)

_FEATURE: tuple[Block, ...] = (
    Question("kind", _("Kind")),
    Question("name", _("Name")),
    Question("distance", _("Distance from the nearest treated edge"), unit="ft"),
    Question("bearing", _("Direction from the surface"), compass=True),
    Question("discharges_to", _("Where it drains to")),
)

ARRIVE = Section(
    "arrive",
    _("Arrive"),
    _("Check that this is the right place, what must be protected, and what will be treated."),
    (
        FromRows(
            Shown(
                (
                    ("customer.name", _("Customer")),
                    ("site.name", _("Site")),
                    ("site.address", _("Address")),
                    ("site.county", _("County")),
                    ("site.use", _("What the place is used for")),
                )
            ),
            (
                Question("customer.name", _("Customer")),
                Question("site.name", _("Site")),
                Question("site.address.line1", _("Street and number")),
                Question("site.address.city", _("City")),
                Question("site.address.postcode", _("Postcode")),
                Question("site.county", _("County")),
                Question("site.use", _("What the place is used for")),
                Question("site.indoors", _("Is any of it indoors?")),
                Items(
                    "site.features",
                    _("What must be protected here"),
                    _("Thing to protect"),
                    _("Add a thing to protect"),
                    _FEATURE,
                    called="name",
                    hint=_("Drains, downspouts, water, plants, play and animal areas, neighbours."),
                ),
            ),
        ),
        Sketch(_("What must be protected here")),
        Question("targets", _("What is to be treated")),
        Items("surfaces", _("Surfaces"), _("Surface"), _("Add a surface"), _SURFACE, called="name"),
        Items(
            "people",
            _("People"),
            _("Person"),
            _("Add a person"),
            _PERSON,
            called="name",
            chosen_from="people",
        ),
        Folded(
            _("Planned time and permits"),
            (
                Question("timing.planned_at", _("Planned for")),
                Items(
                    "permits",
                    _("Permits for this treatment"),
                    _("Permit"),
                    _("Add a permit"),
                    (
                        Question("number", _("Number of the permit")),
                        Question(
                            "authority",
                            _("Place of the authority"),
                            _("As its law is named here: us-wa."),
                        ),
                    ),
                    called="number",
                    none=_("There is none"),
                ),
            ),
        ),
    ),
    ("customer", "site", "targets", "surfaces", "people", "firm", "record", "permits", "timing.planned_at"),
    ("days_between", "applications_per_year", "per_year", "buffer"),
)
