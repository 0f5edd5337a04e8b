"""Photos of a treatment over HTTP: sent in pieces by a script or at once by a form, shown, and removed."""

import hashlib
import re
from datetime import datetime, timedelta
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.core.files.uploadedfile import UploadedFile
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, JsonResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from records.document.faults import DocumentFaults
from records.document.json_text import Bounds, load
from records.forms.sections import BY_SLUG
from records.models import AuditEntry, Photo, Treatment
from records.pages.firm_page import FirmPage
from records.pages.not_for_crew import hidden_from
from records.pages.seen import note_taken
from records.photo_faults import PhotoError
from records.services import photo_store
from records.services.drafts import NotADraftError
from records.services.named_photos import came_with_notices_to, named_by
from records.services.photo_evidence import attach, detach, sweep
from records.services.photos import (
    LARGEST_PIECE,
    Announced,
    WrongOffsetError,
    add_piece,
    announce,
    keep_whole,
)
from records.services.viewing import small_copy, viewing_copy
from shared import clock
from shared.times import TimeError, read_time

SIGNED = _("The record is signed already, so the photo was not added to it.")
NO_FILE = _("Choose a photo first.")
ENVELOPE = Bounds(4096, 3)
AHEAD = timedelta(minutes=5)
FIRST_YEAR = 1900
"""Before any camera's clock; around the year 1 a moment has no like in every zone."""
STATUS = {"no_step": 409, "busy": 503}


class PhotoPage(FirmPage):
    """A page about photos of one treatment; what a service refuses is answered in words."""

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        try:
            return super().dispatch(request, *args, **kwargs)
        except NotADraftError:
            return self.refuse(409, why="signed", words=str(SIGNED))
        except WrongOffsetError as error:
            return self.refuse(409, offset=error.offset)
        except PhotoError as error:
            why = error.wording_id.partition("/")[2]
            return self.refuse(STATUS.get(why, 422), why=why, words=error.say(self.language))

    def refuse(self, status: int, **said: Any) -> HttpResponseBase:
        return JsonResponse(said, status=status)

    def photo(self, treatment: Treatment) -> Photo:
        photos = Photo.objects.for_firm(self.firm).select_related("firm", "treatment")
        photo = photos.filter(treatment=treatment, sha256=self.kwargs["sha256"]).first()
        if photo is None:
            raise Http404("no such photo")
        return photo

    def shown_photo(self) -> Photo:
        """A whole photo that the user may see: of a draft for who sees drafts, else one that is signed; none of
        a notice that is not theirs to see."""
        treatment = self.treatment()
        photo = self.photo(treatment)
        shown = self.may("records.view_draft") or photo.sha256 in named_by(treatment)
        if not (photo.is_whole and shown) or came_with_notices_to(photo, hidden_from(self.membership)):
            raise Http404("no such photo")
        return photo


class SendPhotos(PhotoPage):
    """Where a script announces a photo and has it named, and where a form sends one."""

    permission = "records.edit_draft"

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponseBase:
        treatment = self.treatment()
        if request.content_type == "multipart/form-data":
            return self._take(treatment)
        try:
            said = load(request.body, ENVELOPE)
        except DocumentFaults:
            said = None
        if not isinstance(said, dict) or not _is_announcement(said):
            return self.refuse(400, why="unreadable")
        if said["person"] != str(request.user.pk):
            return self.refuse(401, why="another")
        sweep(self.firm)
        announced = Announced(said["sha256"], said["bytes"], _taken_at(said.get("taken_at")))
        photo = announce(treatment, announced, request.user)
        if photo.is_whole:
            attach(photo, said["step"], request.user)
        return JsonResponse({"offset": photo.came_in, "taken": photo.is_whole})

    def _take(self, treatment: Treatment) -> HttpResponse:
        """A form's photo; whatever is wrong with it is said on the page that it came from."""
        if self.request.POST.get("person", str(self.request.user.pk)) != str(self.request.user.pk):
            raise PermissionDenied("chosen by somebody else")
        step = self.request.POST.get("step", "")
        file = self.request.FILES.get(f"photo:{step}")
        try:
            if not isinstance(file, UploadedFile):
                messages.error(self.request, NO_FILE)
            else:
                sha256 = hashlib.file_digest(file, "sha256").hexdigest()
                attach(keep_whole(treatment, file, sha256, self.request.user), step, self.request.user)
        except PhotoError as error:
            messages.error(self.request, error.say(self.language))
        except NotADraftError:
            messages.error(self.request, SIGNED)
        return back_to_form(treatment, self.request)


class OnePhoto(PhotoPage):
    """The copy for viewing, and where the pieces go."""

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponseBase:
        photo = self.shown_photo()
        path = small_copy(photo) if request.GET.get("size") == "small" else viewing_copy(photo)
        return FileResponse(path.open("rb"), content_type="image/jpeg")

    def patch(self, request: HttpRequest, **_kwargs: Any) -> HttpResponseBase:
        photo = self.photo(self.treatment())
        offset = request.GET.get("offset", "")
        if not re.fullmatch("[0-9]{1,9}", offset) or len(request.body) > LARGEST_PIECE:
            return self.refuse(400, why="unreadable")
        photo = add_piece(photo, int(offset), request.body, request.user)
        return JsonResponse({"offset": photo.came_in, "taken": photo.is_whole})


class OriginalPhoto(PhotoPage):
    """The photo's bytes as they came."""

    permission = "records.download_original"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponseBase:
        photo = self.shown_photo()
        note_taken(request, self.firm, photo, AuditEntry.Kind.EXPORTED)
        name = f"{photo.treatment.number}-{photo.sha256[:12]}.{photo.media_type.partition('/')[2]}"
        path = photo_store.original(photo)
        return FileResponse(path.open("rb"), content_type=photo.media_type, as_attachment=True, filename=name)


class RemovePhoto(PhotoPage):
    """Take a photo off its step, before the record is signed."""

    permission = "records.edit_draft"

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        try:
            detach(self.photo(treatment), request.POST.get("step", ""), request.user)
        except NotADraftError:
            messages.error(request, SIGNED)
        return back_to_form(treatment, request)


def back_to_form(treatment: Treatment, request: HttpRequest) -> HttpResponse:
    section = request.POST.get("section", "")
    if section not in BY_SLUG:
        return redirect("treatment", uuid=treatment.pk)
    return redirect(f"{reverse('section', kwargs={'uuid': treatment.pk, 'section': section})}#photos-of-steps")


def _is_announcement(said: dict[str, Any]) -> bool:
    texts = ("sha256", "step", "person")
    size = said.get("bytes")
    return (
        all(isinstance(said.get(name), str) for name in texts)
        and isinstance(size, int)
        and not isinstance(size, bool)
        and 0 <= size < 2**53
        and bool(re.fullmatch("[0-9a-f]{64}", said["sha256"]))
    )


def _taken_at(text: object) -> datetime | None:
    """By the clock of the device; a moment that is still to come is none. Raises PhotoError."""
    try:
        taken_at = read_time(text) if isinstance(text, str) else None
    except TimeError:
        return None
    if taken_at and taken_at.year < FIRST_YEAR:
        raise PhotoError("photo/taken_when", year=str(taken_at.year))
    return taken_at if taken_at and taken_at <= clock.now() + AHEAD else None
