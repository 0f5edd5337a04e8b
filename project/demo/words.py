"""What the people of the story write, with figures and places taken from the record that they write it on."""

from project.demo.amounts import Json


def said(text: str, document: Json) -> str:
    """The text with its blanks filled: `{first_wind}`, `{last_wind}`, `{street}`, `{downspout}`.

    Raises KeyError for a blank of which the document says nothing.
    """
    readings = document.get("weather", {}).get("readings", [])
    winds = [reading["wind_speed"]["value"] for reading in readings if "wind_speed" in reading]
    site = document.get("site", {})
    features = site.get("features", [])
    downspouts = [feature["name"] for feature in features if feature["kind"] == "downspout"]
    blanks = {
        "first_wind": winds[:1],
        "last_wind": winds[-1:],
        "street": [site.get("address", {}).get("line1")],
        "downspout": downspouts[:1],
    }
    return text.format_map({name: value for name, values in blanks.items() for value in values if value})
