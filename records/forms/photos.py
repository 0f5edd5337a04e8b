"""A field for several photos at once."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile


class PhotosInput(forms.FileInput):
    allow_multiple_selected = True

    def __init__(self) -> None:
        super().__init__({"accept": "image/*", "multiple": True})


class PhotosField(forms.FileField):
    """Gives a list of files; whether each is a photo that is taken is for the service to say."""

    widget = PhotosInput

    def clean(self, data: Sequence[UploadedFile], initial: Any = None) -> list[UploadedFile]:
        return [super(PhotosField, self).clean(file, initial) for file in data or []]
