"""What goes against a receiver's rules."""

from typing import TypedDict

from rest_framework import serializers

from drives.models import Drive
from drives.readings.checks import Check

from .bodies import Body
from .typed import shape

LONGEST_REASON = 300


class NamedBody(Body):
    """Names a conflict, by what its calls tell of it."""

    subject = serializers.CharField(max_length=30)
    code = serializers.CharField(max_length=50)
    about = serializers.CharField(max_length=40, default="", allow_blank=True)

    @property
    def key(self) -> tuple[str, str, str]:
        told = self.validated_data
        return told["subject"], told["code"], told["about"]


class OverruleBody(NamedBody):
    """A conflict, and why it does not count."""

    reason = serializers.CharField(max_length=LONGEST_REASON)


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


class DriveCheck(CheckJson):
    """A conflict with the rules of that drive's receiver."""

    drive: int
    drive_name: str


CheckSerializer = shape(CheckJson)
DriveCheckSerializer = shape(DriveCheck)


def check_json(check: Check) -> CheckJson:
    return {
        "subject": check.subject,
        "title": check.title,
        "code": check.conflict.code.value,
        "about": check.conflict.about,
        "detail": check.detail,
        "mend": check.mend,
        "overruled": check.overruled.reason if check.overruled else "",
    }


def drive_check_json(drive: Drive, check: Check) -> DriveCheck:
    return {**check_json(check), "drive": drive.pk, "drive_name": drive.name}
