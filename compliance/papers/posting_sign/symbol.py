"""A circle with a slash over an adult, a child and a dog, drawn by us: laws name it in words."""

from math import cos, pi, sin

from reportlab.lib.colors import Color
from reportlab.pdfgen.canvas import Canvas


def draw_symbol(canvas: Canvas, x: float, y: float, side: float, ink: Color) -> None:
    """The symbol in a square of this side, lower left corner at x and y; its ring touches all four edges."""
    canvas.saveState()
    canvas.translate(x, y)
    canvas.setFillColor(ink)
    canvas.setStrokeColor(ink)
    _person(canvas, side * 0.40, side * 0.22, side * 0.50)
    _person(canvas, side * 0.60, side * 0.22, side * 0.34)
    _dog(canvas, side * 0.66, side * 0.22, side * 0.17)
    thick = side * 0.075
    canvas.setLineWidth(thick)
    canvas.circle(side / 2, side / 2, (side - thick) / 2, stroke=1, fill=0)
    reach, angle = (side - thick) / 2, 3 * pi / 4
    canvas.line(
        side / 2 + reach * cos(angle),
        side / 2 + reach * sin(angle),
        side / 2 - reach * cos(angle),
        side / 2 - reach * sin(angle),
    )
    canvas.restoreState()


def _person(canvas: Canvas, middle: float, foot: float, height: float) -> None:
    """Head, body, arms and legs of somebody `height` tall who stands at `foot`."""
    head = height * 0.12
    canvas.circle(middle, foot + height - head, head, stroke=0, fill=1)
    width = height * 0.26
    canvas.roundRect(
        middle - width / 2, foot + height * 0.38, width, height * 0.36, width * 0.3, stroke=0, fill=1
    )
    canvas.setLineWidth(height * 0.09)
    canvas.setLineCap(1)
    for side in (-1, 1):
        canvas.line(
            middle + side * width * 0.42,
            foot + height * 0.68,
            middle + side * width * 0.8,
            foot + height * 0.42,
        )
        canvas.line(
            middle + side * width * 0.22, foot + height * 0.4, middle + side * width * 0.3, foot + height * 0.04
        )
    canvas.setLineCap(0)


def _dog(canvas: Canvas, left: float, foot: float, height: float) -> None:
    """A dog that stands sideways, `height` to its ears."""
    canvas.roundRect(left, foot + height * 0.42, height * 1.05, height * 0.32, height * 0.12, stroke=0, fill=1)
    canvas.circle(left + height * 1.12, foot + height * 0.8, height * 0.2, stroke=0, fill=1)
    canvas.setLineWidth(height * 0.14)
    for at in (0.14, 0.32, 0.74, 0.92):
        canvas.line(left + height * at, foot, left + height * at, foot + height * 0.5)
    canvas.line(left + height * 0.05, foot + height * 0.66, left - height * 0.2, foot + height * 0.95)
