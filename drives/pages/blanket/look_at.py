"""What those who look after a blanket should look at: yarn that runs out, squares that differ."""

from typing import NamedTuple

from django.core.cache import cache
from django.urls import reverse
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from accounts.access import may
from accounts.models import Event, Member, Role
from drives.craft.gauge.tension import Tension
from drives.models import Blanket
from drives.readings.gauges import Knits, knits
from drives.readings.supply import supplies
from drives.words.gauge import advice_words, drift_words, found_words
from drives.words.yarn import enough_words
from shared.basics.lists import listed

KEPT_SECONDS = 60


class Thing(NamedTuple):
    """One thing to look at, and the page that tells more."""

    line: str
    address: str


def look_at(blanket: Blanket, me: Member) -> list[Thing]:
    """For coordinators: eight queries at most. Nothing for others.

    Kept for a minute, as long as nothing happens in the circle: it reads every square. All hosts
    share what is kept, and what a write changes has another key at once.
    """
    if not may(me, Role.COORDINATOR):
        return []
    revision = Event.objects.filter(circle=me.circle).revision()
    key = f"look:{blanket.pk}:{blanket.created_at.timestamp()}:{revision}:{get_language()}"
    things: list[Thing] | None = cache.get(key)
    if things is None:
        things = _things(blanket)
        cache.set(key, things, KEPT_SECONDS)
    return things


def _things(blanket: Blanket) -> list[Thing]:
    yarn, gauge = (
        reverse(f"drives:{page}", args=[blanket.pk]) for page in ("blanket_yarn", "gauge")
    )
    found = supplies(blanket)
    short = [each for each in found if each.enough and each.enough.short]
    short.sort(key=lambda each: not each.due)  # what cannot wait comes first
    things = [Thing(enough_words(each.colour, each.enough), yarn) for each in short]
    if odd := sorted(place for each in found for place in each.odd):
        text = _("Far from the others by weight, so left out: %(places)s. Weigh again.")
        things.append(Thing(text % {"places": listed(odd)}, yarn))
    return things + [Thing(line, gauge) for each in knits(blanket) if (line := _differs(each))]


def _differs(each: Knits) -> str:
    """What is to be seen in a member's squares; empty when they fit."""
    told = []
    if each.compared.tension is not Tension.EVEN:
        told += [found_words(each.compared), advice_words(each.compared, each.needle)]
    if each.drift and each.drift.shown:
        told.append(drift_words(each.drift))
    return f"{each.member}: {' '.join(told)}" if told else ""
