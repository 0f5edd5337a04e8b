"""Who lives near a site, and whom a register names: invented people, written down as the office does."""

import csv
from collections.abc import Mapping
from datetime import UTC, date, datetime, time
from io import StringIO
from typing import Any

from project.demo.saving import plain
from records.models import Firm, Neighbour, PeopleFile, Site, User
from records.services.neighbours import save_person, state_complete
from records.services.people_files import keep_file, take
from records.services.taking_lists import ADDRESS_OF_SITE
from shared import clock
from shared.quantities import parse

MEASURED = ("abutting", "distance", "walk")


def make_neighbours(site: Site, data: Mapping[str, Any], users: Mapping[str, User]) -> None:
    """Dwellings all, and abutting unless it is denied; then the word that the list is complete."""
    day, by = date.fromisoformat(data["as_of"]), users[data["by"]]
    of_site = {name: getattr(site, name) for name in ADDRESS_OF_SITE}
    with clock.at(noon(day)):
        for person in data["people"]:
            words = plain({name: person[name] for name in person if name not in MEASURED})
            known = {"abutting": person.get("abutting") != "no", "distance": parse(person["distance"])}
            row = Neighbour(
                firm=site.firm, site=site, dwelling=True, walk=int(person["walk"]), **known, **of_site, **words
            )
            row.full_clean()
            save_person(row, by)
        state_complete(site, day, data["source"], by)


def take_in_register(firm: Firm, data: Mapping[str, Any], users: Mapping[str, User]) -> None:
    """The register comes in as the file that an authority would send."""
    day, by = date.fromisoformat(data["as_of"]), users[data["by"]]
    text = StringIO()
    writer = csv.DictWriter(text, list(data["persons"][0]))
    writer.writeheader()
    writer.writerows(plain(person) for person in data["persons"])
    with clock.at(noon(day)):
        asked = {"authority": data["authority"], "name": data["name"]}
        kind, content = PeopleFile.Kind.REGISTER, text.getvalue().encode()
        take(keep_file(content, kind, data["source"], day, by, firm, None, **asked), by)


def noon(day: date) -> datetime:
    return datetime.combine(day, time(12), UTC)
