"""An address as it stands on a letter: without the country at home in the United States."""

from compliance.papers.speech import joined
from records.document.types import Address


def address_lines(address: Address | None) -> tuple[str, ...]:
    """The lines of an address, from the street to the country."""
    if address is None:
        return ()
    town = joined((address.city, joined((address.region, address.postcode), " ")))
    country = "" if address.country == "US" else address.country
    return tuple(line for line in (address.line1, address.line2, town, country) if line)
