"""A QR code (ISO/IEC 18004) as vector squares, drawn through segno."""

import segno
from reportlab.platypus import Flowable

QUIET_MODULES = 4


class QrCode(Flowable):
    """`text` as a QR code `side` points wide, its quiet zone included; error correction level M."""

    def __init__(self, text: str, side: float) -> None:
        super().__init__()
        self.matrix = segno.make(text, error="m", micro=False).matrix
        self.width = self.height = side

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        module = self.width / (len(self.matrix) + 2 * QUIET_MODULES)
        path = self.canv.beginPath()
        for line, row in enumerate(self.matrix):
            bottom = self.height - (line + QUIET_MODULES + 1) * module
            for start, length in _dark_runs(row):
                path.rect((start + QUIET_MODULES) * module, bottom, length * module, module)
        self.canv.drawPath(path, stroke=0, fill=1)


def _dark_runs(row: bytes | bytearray) -> list[tuple[int, int]]:
    """The dark stretches of a row as (first module, how many)."""
    runs: list[tuple[int, int]] = []
    for column, dark in enumerate(row):
        if not dark:
            continue
        if runs and sum(runs[-1]) == column:
            runs[-1] = (runs[-1][0], runs[-1][1] + 1)
        else:
            runs.append((column, 1))
    return runs
