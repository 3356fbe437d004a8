"""Countries, as the database of time zones lists them."""

from functools import cache
from importlib import resources


@cache
def countries() -> tuple[tuple[str, str], ...]:
    """The two letters of ISO 3166-1 and the English name of each, by name."""
    table = resources.files("tzdata.zoneinfo").joinpath("iso3166.tab").read_text("utf-8")
    lines = (line.split("\t") for line in table.splitlines() if not line.startswith("#"))
    return tuple(sorted(((code, name) for code, name in lines), key=lambda country: country[1]))
