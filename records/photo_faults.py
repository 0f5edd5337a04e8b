"""Why a photo is not taken, in every language."""

from shared.wording import Blanks, Catalogue, Wording, say

WORDINGS: Catalogue = {
    "photo/not_a_picture": Wording(
        "This is no picture that can be read: a JPEG or PNG file is expected.",
        "No es una imagen que se pueda leer: se espera un archivo JPEG o PNG.",
    ),
    "photo/too_many_pixels": Wording(
        "The picture is {width} by {height} pixels; at most {most} million pixels are taken.",
        "La imagen mide {width} por {height} píxeles; se aceptan como máximo {most} millones de píxeles.",
    ),
    "photo/too_long": Wording(
        "The picture is {width} by {height} pixels; a side of at most {most} pixels is taken.",
        "La imagen mide {width} por {height} píxeles; se acepta un lado de {most} píxeles como máximo.",
    ),
    "photo/too_many_scans": Wording(
        "The picture is built up in more than {most} passes, so it was not taken. Take it again as a new one.",
        "La imagen se forma en más de {most} pasadas, por eso no se aceptó. Tómela de nuevo.",
    ),
    "photo/busy": Wording(
        "Another photo is being looked at just now. Try again in a moment.",
        "En este momento se está revisando otra foto. Intente de nuevo en un momento.",
    ),
    "photo/taken_when": Wording(
        "The photo says that it was taken in the year {year}. Check the clock of the camera and take it again.",
        "La foto dice que se tomó en el año {year}. Revise el reloj de la cámara y tómela de nuevo.",
    ),
    "photo/too_big": Wording(
        "The photo has {size} MB; at most {most} MB are taken.",
        "La foto tiene {size} MB; se aceptan como máximo {most} MB.",
    ),
    "photo/empty": Wording("The file is empty.", "El archivo está vacío."),
    "photo/too_many": Wording(
        "There are {most} photos of this treatment already; remove one first.",
        "Ya hay {most} fotos de este tratamiento; quite una primero.",
    ),
    "photo/too_much_today": Wording(
        "The firm has sent as many photos in a day as are taken. This one can be sent tomorrow.",
        "La empresa ya envió en un día todas las fotos que se aceptan. Esta se puede enviar mañana.",
    ),
    "photo/other_bytes": Wording(
        "The photo did not arrive as it was sent. It has to be sent again from the start.",
        "La foto no llegó como se envió. Hay que enviarla de nuevo desde el principio.",
    ),
    "photo/no_step": Wording(
        "Tick the step, or enter the incident, that the photo shows first.",
        "Marque primero la medida, o anote el incidente, que muestra la foto."
    ),
}


class PhotoError(ValueError):
    """A photo that is not taken; `wording_id` says why."""

    def __init__(self, wording_id: str, **blanks: str) -> None:
        super().__init__(wording_id)
        self.wording_id = wording_id
        self.blanks: Blanks = blanks

    def say(self, language: str) -> str:
        return say(WORDINGS, self.wording_id, self.blanks, language)


class PhotoBusyError(PhotoError):
    """Others are being looked at: it is to be sent again later."""

    def __init__(self) -> None:
        super().__init__("photo/busy")
