"""Text as it is compared: whatever its case and spaces. Pure."""


def folded(text: str) -> str:
    """` Main roof,  North slope` and `main roof, north slope` are the same."""
    return " ".join(text.split()).casefold()
