"""Numbers for treatments of earlier years that come without one."""

from collections.abc import Iterable, Iterator

from records.models import Firm, NumberSeries, Treatment


def give_numbers(firm: Firm, treatments: Iterable[Treatment]) -> None:
    """The next numbers of each one's year; those that are there already are passed over. In a transaction."""
    years: dict[int, list[Treatment]] = {}
    for treatment in treatments:
        years.setdefault(int(str(treatment.day)[:4]), []).append(treatment)
    for year, some in years.items():
        NumberSeries.objects.for_firm(firm).get_or_create(firm=firm, year=year)
        series = NumberSeries.objects.for_firm(firm).select_for_update().get(year=year)
        free = _free(series, len(some))
        for treatment in some:
            treatment.number = next(free)
            treatment.document["record"]["number"] = treatment.number
        series.save()


def _free(series: NumberSeries, count: int) -> Iterator[str]:
    while True:
        wanted = [f"{series.year}-{series.last + ahead:04}" for ahead in range(1, count + 1)]
        rows = Treatment.objects.for_firm(series.firm).filter(number__in=wanted)
        taken = set(rows.values_list("number", flat=True))
        for number in wanted:
            series.last += 1
            if number not in taken:
                yield number
