"""What goes against a receiver's rules."""

from typing import TypedDict

from drives.readings.checks import Check

from .typed import shape


class CheckJson(TypedDict):
    """One conflict: of a plan, a finished blanket, or a yarn.

    ``subject``: for example “plan 3”, “blanket 3” or “yarn 5”, ``title`` its name for people.
    ``about``: what of it, where one rule can be broken in several ways, else empty. ``overruled``:
    the organiser's reason why it does not count; empty where it does.
    """

    subject: str
    title: str
    code: str
    about: str
    detail: str
    mend: str
    overruled: str


CheckSerializer = shape(CheckJson)


def check_json(check: Check) -> CheckJson:
    return {
        "subject": check.subject,
        "title": check.title,
        "code": check.conflict.code,
        "about": check.conflict.about,
        "detail": check.detail,
        "mend": check.mend,
        "overruled": check.overruled.reason if check.overruled else "",
    }
