"""Making a drive and changing its settings."""

from datetime import date, datetime
from typing import NotRequired, TypedDict, Unpack

from accounts.actions.limits import spend_by
from accounts.models import Circle, Member
from drives.actions.locks import hold_drive
from drives.actions.log import note_drive
from drives.actions.pieces.hand_overs import lay_pieces_down
from drives.models import Drive, Mode
from shared.basics.changes import save_changed
from shared.basics.totals import require_room
from shared.basics.transactions import writing


class DriveSettings(TypedDict):
    """What an organiser decides about a drive; meanings as on the row."""

    name: str
    purpose: str
    recipient: str
    for_babies: bool
    deadline: date | None
    mode: str
    claim_limit: int
    claim_days: int
    grace_days: int
    at_once: NotRequired[int | None]
    hand_over_days: NotRequired[int]
    passing: NotRequired[str]
    meet_every: NotRequired[int | None]


def make_drive(
    *, circle: Circle, by: Member, now: datetime, **settings: Unpack[DriveSettings]
) -> Drive:
    """A new drive of the circle. Raises LimitReached."""
    spend_by(by, "drives", now)
    with writing():
        require_room("drives", circle.drives.all())
        drive = Drive.objects.create(circle=circle, created_at=now, **settings)
        note_drive(drive, by, "drive-made", now, name=drive.name)
    return drive


def change_drive(
    *, drive: Drive, by: Member, now: datetime, **settings: Unpack[DriveSettings]
) -> Drive:
    """The drive with these settings; claims already made keep their due dates.

    Its mode decides who has the pieces from now on: together the circle has them; travelling, who
    first begins on one, or whom a coordinator says.
    """
    with writing():
        drive = hold_drive(drive)
        if changed := save_changed(drive, settings):
            note_drive(drive, by, "drive-changed", now, changed=changed)
        if "mode" in changed and drive.mode == Mode.TOGETHER:
            lay_pieces_down(drive, now)
    return drive
