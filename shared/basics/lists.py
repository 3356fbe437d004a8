"""Names in a row, as a sentence lists them."""

from collections.abc import Sequence

from django.utils.translation import gettext as _


def listed(things: Sequence[object]) -> str:
    """All of them: ``A2, B1 and C1``."""
    return _joined(things, _("%(first)s and %(last)s"))


def either(things: Sequence[object]) -> str:
    """Any of them: ``red, blue or green``."""
    return _joined(things, _("%(first)s or %(last)s"))


def _joined(things: Sequence[object], words: str) -> str:
    names = [str(thing) for thing in things]
    if len(names) < 2:
        return "".join(names)
    return words % {"first": ", ".join(names[:-1]), "last": names[-1]}
