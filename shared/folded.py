"""Text as it is compared: whether two names are one, and whether a name is what somebody looks for. Pure."""

import unicodedata


def folded(text: str) -> str:
    """Whatever its case and spaces: ` Main roof,  North slope` and `main roof, north slope` are the same name.

    An accent makes another name: what follows from two being the same is not to be taken back.
    """
    return " ".join(text.split()).casefold()


def sought(text: str) -> str:
    """As it is searched and sorted: whatever its case, spaces and accents. `Villaseñor` and `villasenor` find
    each other. Folded twice it stays as it is; what is nothing but accents is only `folded`.

    Compatibility decomposition (NFKD) without its combining marks, so that `½` is `1⁄2` and `™` is `tm`, too.
    What Unicode does not take apart stays: `ø`, `ł`, `đ`, `ı`, `æ`, a curly apostrophe. `ß` is `ss`, as by
    case; `ö` is `o` and never `oe`. No script is written in another.
    """
    return folded(text) if text.isascii() else " ".join(unaccented(text).casefold().split()) or folded(text)


def unaccented(text: str) -> str:
    """In lower case, each letter without its marks; spaces as they are."""
    split = unicodedata.normalize("NFKD", text.casefold())
    return "".join(sign for sign in split if not unicodedata.combining(sign))
