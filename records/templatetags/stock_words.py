"""How much of a lot should be there, and how far a count is from it, in words."""

from django import template

from records import amounts_said
from records.on_shelf import OnShelf
from records.pages.stock_said import said_left, said_off
from records.shelf import Line

register = template.Library()
register.filter("about", amounts_said.about)


@register.filter
def left_said(shelf: OnShelf) -> str:
    return said_left(shelf, shelf.left)


@register.filter
def off_said(shelf: OnShelf, count: Line) -> str:
    return said_off(shelf, count.off)
