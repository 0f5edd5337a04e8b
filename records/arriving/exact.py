"""Cells: which values a workbook itself vouches for, and the letters of columns."""

LONGEST_CELL = 20_000


class Exact(str):
    """A value that the workbook itself gives as a number, a date or a time."""

    __slots__ = ()


def letters(column: int) -> str:
    """0 is A, 26 is AA."""
    text = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        text = chr(65 + rest) + text
    return text


def column_of(name: str) -> int:
    place = 0
    for letter in name:
        place = place * 26 + ord(letter) - 64
    return place - 1
