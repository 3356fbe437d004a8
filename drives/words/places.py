"""Names of places as people type them."""

from django.utils.translation import gettext as _

from drives.craft.places import LIMIT, NoPlace, Place, Wrong


def place_named(name: str) -> Place:
    """The place called ``name``; raises ValueError with a sentence when there is none."""
    try:
        return Place.parse(name)
    except NoPlace as error:
        raise ValueError(no_place(error)) from error


def no_place(error: NoPlace) -> str:
    """Why what was typed is not the name of a place."""
    if error.wrong is Wrong.NOT_A_NAME:
        text = _("“%(name)s” is not the name of a place; places look like C4.")
        return text % {"name": error.name[:20]}
    text = _("%(name)s lies outside the largest blanket (%(limit)d × %(limit)d).")
    return text % {"name": error.name, "limit": LIMIT}
