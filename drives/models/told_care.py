"""Care as rows keep it: for each treatment that was told, the name of its value."""

from collections.abc import Mapping

from drives.craft.fibre.care import TREATMENTS, Care


def read_care(told: Mapping[str, str]) -> Care:
    """From a row's JSON."""
    return Care(**{name: TREATMENTS[name][value] for name, value in told.items()})  # type: ignore[arg-type]


def stored_care(care: Care) -> dict[str, str]:
    """For a row's JSON."""
    return {name: value.name for name, value in care._asdict().items() if value is not None}
