"""What earlier looks found whole: a log whose end was cut off since, or that was written anew, is not that."""

from collections.abc import Iterator

from django.db.models import Max

from records.document.faults import Fault
from records.models import Firm, LogLook, TreeHead
from shared.digests import named
from shared.merkle import GrowingTree


class LooksBefore:
    """The root that each whole look of a firm found, by how many entries there were."""

    def __init__(self, firm: Firm) -> None:
        looks = LogLook.objects.for_firm(firm)
        whole = looks.filter(faults=0, entries__gt=0)
        self._most = looks.aggregate(most=Max("entries"))["most"] or 0
        self._roots = dict(whole.order_by("at").values_list("entries", "root"))
        self._least = min(self._roots, default=0)

    def faults_at(self, tree: GrowingTree) -> Iterator[Fault]:
        """Whether the entries so far come to what they came to before."""
        if tree.size in self._roots and self._roots.pop(tree.size) != named(tree.root):
            yield Fault("", "log/other_than_before", {"size": str(tree.size)})

    def faults_beyond(self, size: int) -> Iterator[Fault]:
        """Whether there were more entries before than the log has, whatever else did not hold then."""
        if self._most > size:
            yield Fault("", "log/shorter_than_before", {"size": str(self._most), "entries": str(size)})

    def faults_before(self, first: TreeHead) -> Iterator[Fault]:
        """Whether a look found fewer entries whole, heads and all, than the first head now covers."""
        if self._least and self._least < first.size:
            yield Fault("", "log/heads_gone", {"entries": str(self._least), "size": str(first.size)})
