"""The mix: products, diluent, loads, rigs."""

from django.utils.translation import gettext_lazy as _

from records.forms.table import Folded, Items, Question, Section, Shown

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
                        Question("lot", _("Lot number on the container"), as_before=True, on_container=True),
                        Question("amount", _("Amount of product"), unit="gal"),
                    ),
                    called="name",
                    chosen_from="labels",
                ),
                Question("diluent.name", _("Diluent"), _("Usually water.")),
                Question("diluent.amount", _("Amount of diluent"), unit="gal"),
                Folded(
                    _("Rig, form, where it was mixed"),
                    (
                        Question("equipment", _("Rig"), names="equipment[].name"),
                        Question("form", _("Form")),
                        Question("mixed_at_place", _("Mixed where")),
                    ),
                ),
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
                Folded(
                    _("Method, tank, pressure, tip, flow"),
                    (
                        Question("method", _("Method")),
                        Question("tank", _("Tank"), unit="gal"),
                        Question("pressure", _("Pressure"), unit="psi"),
                        Question("tip", _("Tip")),
                        Question("flow", _("Flow"), unit="gal/min"),
                        Question("backflow", _("Backflow protection")),
                    ),
                ),
            ),
            called="name",
            chosen_from="rigs",
        ),
    ),
    ("mixes", "equipment"),
    ("coverage", "dilution", "product_rate", "per_year"),
)
