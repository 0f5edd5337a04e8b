"""The crew's form as a table: sections in the order of the work, and what each asks."""

from django.utils.translation import gettext_lazy as _

from records.forms.table import Block, FromRows, Items, Question, Section, Shown, Spread, Ticks

_PERSON: tuple[Block, ...] = (
    Question("role", _("Role")),
    Question("tasks", _("What this person does today")),
    Question("supervised_by", _("Supervised by"), names="people[].name"),
    Question("supervision", _("How supervised")),
    Question("ppe", _("Protective equipment worn"), _("Wear what the label asks for, at the least.")),
)

_SURFACE: tuple[Block, ...] = (
    Question("name", _("Name")),
    Question("kind", _("Kind")),
    Question("material", _("Material"), _("For example asphalt shingle, concrete, cedar.")),
    Question("plan_area", _("Plan area"), _("As seen from above."), unit="ft**2"),
    Question("pitch.rise", _("Pitch: rise"), _("6 for a roof that rises 6 in 12.")),
    Question("pitch.run", _("Pitch: run"), _("12 for a roof that rises 6 in 12.")),
    Question("treated_area", _("Area to treat, along the slope"), unit="ft**2"),
)

_FEATURE: tuple[Block, ...] = (
    Question("kind", _("Kind")),
    Question("name", _("Name")),
    Question("distance", _("Distance from the nearest treated edge"), unit="ft"),
    Question("bearing", _("Direction from the surface"), compass=True),
    Question("discharges_to", _("Where it drains to")),
)

_READING: tuple[Block, ...] = (
    Question("at", _("When")),
    Question("calm", _("Is the air calm?"), _("Calm air has no direction.")),
    Question("wind_from", _("Wind comes from"), compass=True),
    Question("wind_variable", _("Does the direction change?")),
    Question("wind_speed", _("Wind speed"), unit="mph"),
    Question("gust", _("Gusts up to"), unit="mph"),
    Question("temperature", _("Air temperature"), unit="degF"),
    Question("relative_humidity", _("Relative humidity"), unit="percent"),
    Question("sky", _("Sky")),
    Question("source", _("How it was measured")),
    Question("by", _("Read by"), names="people[].name"),
)


def _readings(title: str) -> Items:
    return Items(
        "weather.readings",
        title,
        _("Reading"),
        _("Add a reading"),
        _READING,
        called="at",
        hint=_("A reading counts from 30 minutes before the start to the finish of spraying."),
    )


SITE = Section(
    "site",
    _("Site and plan"),
    _("Check that this is the right place, and what will be treated."),
    (
        Question("timing.planned_at", _("Planned for")),
        FromRows(
            Shown(
                (
                    ("customer.name", _("Customer")),
                    ("site.name", _("Site")),
                    ("site.address", _("Address")),
                    ("site.county", _("County")),
                    ("site.use", _("What the place is used for")),
                    ("site.features", _("What must be protected here")),
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
    ),
    ("customer", "site", "targets", "surfaces", "people", "firm", "record", "permits", "timing.planned_at"),
)

BEFORE = Section(
    "before",
    _("Before spraying"),
    _("Protect what must be protected, tell who must be told, and take the wind."),
    (
        Ticks(
            "protection",
            _("Protection done"),
            "step",
            (
                (
                    _("Against runoff"),
                    (
                        "downspouts-diverted",
                        "downspouts-plugged",
                        "storm-drains-covered",
                        "drains-bermed",
                        "gutters-cleared",
                        "runoff-collected",
                        "ponds-covered",
                        "rain-barrels-disconnected",
                    ),
                ),
                (_("Plants"), ("plants-pre-wet", "plants-covered", "plants-rinsed")),
                (
                    _("People, animals and things"),
                    (
                        "people-told-on-arrival",
                        "area-closed-off",
                        "windows-closed",
                        "air-intakes-closed",
                        "animals-brought-in",
                        "toys-and-furniture-moved",
                        "vehicles-moved",
                        "metal-rinsed",
                        "overspray-shielded",
                        "other",
                    ),
                ),
            ),
            details=(
                Question("features", _("Where"), names="site.features[].name"),
                Question("at", _("When")),
                Question("by", _("By whom"), names="people[].name"),
                Question("note", _("Note")),
            ),
            hint=_("Tick what is done. The time and your name are noted; both can be changed."),
        ),
        _readings(_("Wind and weather before the start")),
        Question("weather.forecast.source", _("Forecast from")),
        Question("weather.forecast.issued_at", _("Forecast issued")),
        Question("weather.forecast.dry_until", _("Dry until")),
        Question("weather.forecast.rain_probability", _("Chance of rain"), unit="percent"),
        Items(
            "notices",
            _("Who was told"),
            _("Notice"),
            _("Add a notice"),
            (
                Question("to", _("To whom")),
                Question("name", _("Name"), _("Of a customer or occupant only, never of a neighbour.")),
                Question("means", _("By what means")),
                Question("sent_at", _("Sent")),
                Question("delivered_at", _("Delivered")),
            ),
            called="name",
        ),
        Items(
            "postings",
            _("Signs put up"),
            _("Sign"),
            _("Add a sign"),
            (
                Question("where", _("Where")),
                Question("width", _("Width"), unit="inch"),
                Question("height", _("Height"), unit="inch"),
                Question("posted_at", _("Put up")),
            ),
            called="where",
        ),
    ),
    ("protection", "notices", "postings", "weather.forecast"),
)

MIX = Section(
    "mix",
    _("Mix"),
    _("What goes into the tank. The calculator works out amounts; the label sets the rates."),
    (
        Items(
            "mixes",
            _("Mixes"),
            _("Mix"),
            _("Add a mix"),
            (
                Question("equipment", _("Rig"), names="equipment[].name"),
                Question("form", _("Form")),
                Items(
                    "products",
                    _("Products"),
                    _("Product"),
                    _("Add a product"),
                    (
                        Shown(
                            (
                                ("registration_number", _("Registration number")),
                                ("signal_word", _("Signal word")),
                                ("label.version", _("Label version")),
                            )
                        ),
                        Question("lot", _("Lot number on the container")),
                        Question("amount", _("Amount of product"), unit="gal"),
                    ),
                    called="name",
                    chosen_from="labels",
                ),
                Question("diluent.name", _("Diluent"), _("Usually water.")),
                Question("diluent.amount", _("Amount of diluent"), unit="gal"),
                Question("mixed_at_place", _("Mixed where")),
                Items(
                    "loads",
                    _("Loads"),
                    _("Load"),
                    _("Add a load"),
                    (Question("volume", _("Volume of the load"), unit="gal"),),
                ),
            ),
            calculator=True,
        ),
        Items(
            "equipment",
            _("Rigs"),
            _("Rig"),
            _("Add a rig"),
            (
                Shown((("identification", _("Identification")), ("calibrated_on", _("Calibrated on")))),
                Question("method", _("Method")),
                Question("tank", _("Tank"), unit="gal"),
                Question("pressure", _("Pressure"), unit="psi"),
                Question("tip", _("Tip")),
                Question("flow", _("Flow"), unit="gal/min"),
                Question("backflow", _("Backflow protection")),
            ),
            called="name",
            chosen_from="rigs",
        ),
    ),
    ("mixes", "equipment"),
)

DURING = Section(
    "during",
    _("During"),
    _("When spraying began, and the weather while it went on."),
    (
        Question("timing.started_at", _("Spraying started")),
        _readings(_("Wind and weather")),
        Items(
            "timing.pauses",
            _("Pauses"),
            _("Pause"),
            _("Add a pause"),
            (
                Question("started_at", _("From")),
                Question("finished_at", _("To")),
                Question("note", _("Why")),
            ),
        ),
    ),
    ("timing.started_at", "weather", "timing.pauses"),
)

AFTER = Section(
    "after",
    _("After"),
    _("When spraying ended, what was used, and anything unusual."),
    (
        Question("record.result", _("What became of the treatment")),
        Question("record.why", _("If it was stood down: why")),
        Question("timing.finished_at", _("Spraying finished")),
        Items(
            "mixes",
            _("What was applied"),
            _("Mix"),
            "",
            (
                Question("applied", _("Finished mix applied"), unit="gal"),
                Question("measured_by", _("How it was measured")),
                Spread(
                    "surfaces",
                    _("Of it, on each surface"),
                    "surface",
                    "applied",
                    unit="gal",
                    names="surfaces[].name",
                ),
                Question("left_over.amount", _("Left over"), unit="gal"),
                Question("left_over.disposition", _("What became of it")),
            ),
        ),
        Items(
            "people",
            _("Where people worked"),
            _("Person"),
            "",
            (
                Spread(
                    "positions", _("Time on the ground, ladder, lift and roof"), "where", "time", unit="min"
                ),
            ),
            called="name",
        ),
        Question(
            "timing.reentry_at",
            _("Treated area may be entered again from"),
            _("Not before the label allows it."),
        ),
        Items(
            "incidents",
            _("Anything that went wrong"),
            _("Incident"),
            _("Add an incident"),
            (
                Question("kind", _("What happened")),
                Question("at", _("When")),
                Question("description", _("In your words")),
                Question("amount", _("Amount spilled or drifted"), unit="gal"),
                Question("action", _("What was done about it")),
                Question("reported_to", _("Reported to")),
                Question("reported_at", _("Reported")),
            ),
            called="kind",
        ),
        Question("notes", _("Notes")),
    ),
    ("timing", "incidents", "notes", "record.result", "record.why"),
)

SECTIONS = (SITE, BEFORE, MIX, DURING, AFTER)
BY_SLUG = {section.slug: section for section in SECTIONS}
