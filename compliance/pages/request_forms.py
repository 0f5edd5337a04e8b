"""What a person enters of a request for records, and of the answer to one."""

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.conf import settings
from django.core.exceptions import ValidationError
from django.db.models import Q, QuerySet
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from compliance.models import RecordsRequest
from compliance.pages.time_fields import DueField, FirmTimeField
from compliance.request_bundle.searched import TOLD_OF
from compliance.services.requests import AnswerDuty
from records.forms.hand_over import HandOverForm, section_choices
from records.models import Firm, Membership, User
from shared import clock

NO_DUTY = ""


class RequestForm(forms.Form):
    asked_by = forms.ChoiceField(label=gettext_lazy("Who asks"), choices=RecordsRequest.Asker.choices)
    name = forms.CharField(label=gettext_lazy("Name, and of which office or firm"), max_length=200)
    contact = forms.CharField(
        label=gettext_lazy("E-mail, phone or address for the answer"), max_length=300, required=False
    )
    reference = forms.CharField(
        label=gettext_lazy("Their number, if there is one"), max_length=100, required=False
    )
    means = forms.ChoiceField(
        label=gettext_lazy("It came by"),
        choices=[("", gettext_lazy("Choose")), *RecordsRequest.Means.choices],
    )
    received_at = FirmTimeField(
        label=gettext_lazy("It came on"),
        help_text=gettext_lazy("On your firm's clock. The time to answer runs from here."),
    )
    asked_for = forms.CharField(
        label=gettext_lazy("What they ask for, in their words"),
        max_length=2000,
        widget=forms.Textarea({"rows": 3}),
    )
    duty = forms.ChoiceField(
        label=gettext_lazy("Under which paragraph"),
        required=False,
        help_text=gettext_lazy(
            "Where it names a time, that is when the answer is due. For who treats a person the soonest of "
            "these is assumed, unless you choose one that sets them a time."
        ),
    )
    due_at = DueField(
        label=gettext_lazy("By when they want it, if they said so"),
        help_text=gettext_lazy(
            "The day is enough: it then counts to its end. The sooner of this and the paragraph's time counts."
        ),
        required=False,
    )

    def __init__(self, firm: Firm, duties: list[AnswerDuty], language: str, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choices = [(NO_DUTY, _("None of these"))]
        choices += [(each.key, f"{each.reminder.cite}: {each.reminder.says.say(language)}") for each in duties]
        self.fields["duty"].choices = choices  # type: ignore[attr-defined]
        for name in ("received_at", "due_at"):
            self.fields[name].zone = ZoneInfo(firm.time_zone)  # type: ignore[attr-defined]

    def clean_received_at(self) -> datetime:
        at: datetime = self.cleaned_data["received_at"]
        if at > clock.now():
            raise ValidationError(_("This is still to come. Enter when it reached you."))
        return at

    def clean(self) -> dict[str, Any]:
        given: dict[str, Any] = super().clean() or self.cleaned_data
        received, due = given.get("received_at"), given.get("due_at")
        if received and due and due < received:
            self.add_error("due_at", _("This is before the request came."))
        return given


class ByName(forms.ModelChoiceField):
    def label_from_instance(self, obj: Any) -> str:
        return str(obj.name)


class MendRequestForm(RequestForm):
    """What was taken in of a request, to be put right, and who sees to it."""

    handled_by = ByName(None, label=gettext_lazy("Seen to by"), empty_label=None)

    def __init__(self, asked: RecordsRequest, duties: list[AnswerDuty], *args: Any, **kwargs: Any) -> None:
        super().__init__(asked.firm, duties, *args, **kwargs)
        self.asked = asked
        under: Any = self.fields["duty"]
        if asked.duty and asked.duty not in dict(under.choices):
            under.choices = [*under.choices, (asked.duty, asked.paragraph)]
        self.fields["handled_by"].queryset = _who_may_see_to(asked)  # type: ignore[attr-defined]

    def clean_received_at(self) -> datetime:
        """No later than it was entered: what was corrected since would count as corrected before it came."""
        at = super().clean_received_at()
        if at > self.asked.made_at:
            raise ValidationError(_("It was entered here before that. What came later is another request."))
        return at


def _who_may_see_to(asked: RecordsRequest) -> QuerySet[User]:
    managers = Membership.objects.for_firm(asked.firm).filter(
        role=Membership.Role.MANAGER, active=True, accepted_at__isnull=False
    )
    may = Q(pk__in=managers.values("user")) | Q(pk=asked.handled_by_id)
    return User.objects.filter(may).order_by("name")


_NOT_TOLD = gettext_lazy(
    "No record goes out. What the search asks of a part that is ticked is not told in the letter."
)


class AnswerForm(HandOverForm):
    """The hand-over of records, with to whom and how."""

    to = forms.CharField(label=gettext_lazy("Handed to"), max_length=200)
    how = forms.CharField(
        label=gettext_lazy("How"),
        max_length=200,
        help_text=gettext_lazy(
            "For example: by e-mail to the address above, on a stick, over their upload page."
        ),
    )
    language = forms.ChoiceField(label=gettext_lazy("Language of the letter"), choices=settings.LANGUAGES)
    findings = forms.MultipleChoiceField(
        label=gettext_lazy("Findings"),
        help_text=gettext_lazy(
            "Only where the duty asks for them. Each rule goes along as it stood, with its words; the firm's "
            "own rules stay in the house."
        ),
        choices=[("rules", gettext_lazy("What the rules said of each record"))],
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    field_order = ("to", "how", "language")

    def __init__(self, *args: Any, with_findings: bool, **kwargs: Any) -> None:
        """Findings leave the house only for an authority or a court."""
        super().__init__(*args, **kwargs)
        if not with_findings:
            del self.fields["findings"]


class NothingForm(AnswerForm):
    """The answer that nothing fits: parts that are left out are not told as what was searched for, either."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, with_findings=False, **kwargs)
        for name in ("sheets", "photos"):
            del self.fields[name]
        withheld = self.fields["withheld"]
        withheld.help_text = _NOT_TOLD
        withheld.choices = [each for each in section_choices() if each[0] in TOLD_OF]  # type: ignore[attr-defined]


class CloseForm(forms.Form):
    why = forms.CharField(
        label=gettext_lazy("Why it is closed"),
        max_length=500,
        help_text=gettext_lazy(
            "For example: answered in full; withdrawn; nothing that fits, told on the phone."
        ),
    )
