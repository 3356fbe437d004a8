"""Ways to pass travelling pieces on, and one more volunteer, played through for a forecast."""

from collections import Counter
from datetime import date

from drives.craft.forecast.forecast import Forecast, forecast
from drives.craft.forecast.passing import Passing, passed_by, with_passing
from drives.craft.forecast.situation import Situation, Travelling
from drives.readings.foretold import Passed, Volunteer
from drives.readings.outlook import Outlook

from .chances import SEED, dates


def ways(
    now: Forecast, known: Outlook, number: int, today: date, wanted: date | None
) -> list[Passed]:
    """Each way with its dates, the soonest first; nothing where pieces do not travel."""
    situation = now.situation
    if not isinstance(situation.mode, Travelling) or len(situation.knitters) < 2:
        return []
    found = []
    for passing in Passing:
        as_now = passing == passed_by(situation.mode)
        passed = with_passing(situation, passing, known.meetings)
        told = now if as_now else forecast(passed, number, SEED)
        found.append((told.within(0.9), not as_now, told, passing))
    found.sort(key=lambda each: each[:2])
    return [
        {**dates(told, today, wanted), "passing": passing.value, "now": not other}
        for _, other, told, passing in found
    ]


def one_more(
    now: Forecast, known: Outlook, more: Forecast, number: int, today: date, wanted: date | None
) -> Volunteer:
    """What one ``more`` volunteer changes; never is it told as later without saying who keeps on.

    Nobody needs to be given a piece: with one more who has nothing to do it is as it is ``now``.
    """
    best, kept_by = (more if more.within(0.9) <= now.within(0.9) else now), None
    situation = more.situation
    if best is now and isinstance(situation.mode, Travelling):
        kept = forecast(with_passing(situation, Passing.KEEP, known.meetings), number, SEED)
        best, kept_by = min((kept, now), key=lambda each: each.within(0.9)), _keeper(known)
    return {**dates(best, today, wanted), "kept_by": kept_by}


def _keeper(known: Outlook) -> str | None:
    """Who has most of the blanket in hand; else the quickest."""
    situation: Situation = known.situation
    if not situation.knitters:
        return None
    held = Counter(situation.holders.values())
    if not held:
        people = range(len(situation.knitters))
        return known.members[min(people, key=lambda who: situation.knitters[who].pace)].name
    return known.members[max(held, key=lambda who: (held[who], -who))].name
