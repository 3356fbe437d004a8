"""How the travelling pieces of a drive go on, in words."""

from datetime import date

from drives.craft.forecast.passing import Passing
from drives.models import Drive, Mode
from drives.readings.meetings import exchanges
from drives.words.next_steps import passing_words


def how_pieces_go_on(drive: Drive, today: date) -> str:
    """Empty where they stay with the circle. One query where they change hands at meetings."""
    if drive.mode != Mode.TRAVELLING:
        return ""
    return passing_words(Passing(drive.passing), exchanges([drive], today).get(drive.pk))
