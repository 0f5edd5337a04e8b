"""In which orders the register stands. Each is served by an index of its own. Pure."""

from typing import NamedTuple

Key = tuple[tuple[str, bool], ...]
"""Columns with whether each falls; the last one is the row's own."""


class Order(NamedTuple):
    """`by_day`: a treatment's terms stand in the same order, so that it can be read along one of them.
    `only_with`: the column without which a treatment has no place in it."""

    name: str
    key: Key
    by_day: bool = False
    only_with: str = ""

    def places(self, row: object) -> bool:
        """Whether the row has a place in it."""
        return not self.only_with or getattr(row, self.only_with) is not None


NEWEST = Order("newest", (("day", True), ("uuid", True)), by_day=True)
OLDEST = Order("oldest", (("day", False), ("uuid", False)), by_day=True)
ORDERS = {
    order.name: order
    for order in (
        NEWEST,
        OLDEST,
        Order("number", (("number", False), ("uuid", False))),
        Order("customer", (("customer_key", False), ("day", True), ("uuid", True))),
        Order("site", (("site_key", False), ("day", True), ("uuid", True))),
        Order("wind", (("strongest_wind", True), ("uuid", True)), only_with="strongest_wind"),
    )
}
