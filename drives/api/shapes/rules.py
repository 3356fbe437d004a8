"""What a receiver asks. Null is not told, and nothing conflicts with it."""

from datetime import date
from typing import Annotated, Any, TypedDict

from django.utils import timezone
from django.utils.translation import gettext as _
from rest_framework import serializers

from drives.api.fields import Day, Number, OneOf, Truth, Whole
from drives.craft.fibre.fibres import Fibre
from drives.craft.receivers.rules import Rules
from drives.craft.receivers.typical import ReceiverKind
from drives.models import Drive, Receiver
from drives.models.receiver import stored_rules
from drives.readings.checks import cautions_of
from drives.words.cautions import caution_words
from drives.words.countries import countries
from drives.words.receivers import told_wrongly

from .bodies import LONGEST_NAME, Body
from .typed import shape

FIBRE_SETS = ("wanted", "refused")


def _side() -> Number:
    return Number(1, 1000, default=None, allow_null=True)


def _yes_or_no() -> Truth:
    return Truth(default=None, allow_null=True)


def _fibres() -> serializers.ListField:
    return serializers.ListField(
        child=OneOf(Fibre), default=None, allow_null=True, max_length=len(Fibre)
    )


class RulesOnlyBody(Body):
    """The rules themselves; whatever is left out was not told. Sizes in cm, of either side."""

    shorter_from = _side()
    shorter_to = _side()
    longer_from = _side()
    longer_to = _side()
    wanted = _fibres()
    refused = _fibres()
    animal = _yes_or_no()
    machine_wash = _yes_or_no()
    temperature = Whole(20, 95, default=None, allow_null=True, help_text="°C")
    mild = _yes_or_no()
    tumble = _yes_or_no()
    fringe = _yes_or_no()
    holes = _yes_or_no()
    smoke_free = _yes_or_no()
    pet_free = _yes_or_no()
    washed = _yes_or_no()
    label = _yes_or_no()  # type: ignore[assignment]  # fields have a label of their own, too
    for_babies = _yes_or_no()
    for_wheelchairs = _yes_or_no()


class RulesBody(Body):
    """All that is known of a receiver: what is left out counts as not told from now on.

    ``told_by`` and ``told_on`` go together; without them the rules are not confirmed. ``kind``: of
    what kind of receiver the rules are typical. ``country``: two letters of ISO 3166-1, or empty.
    """

    rules = RulesOnlyBody()
    kind = OneOf(["", *ReceiverKind], default="", allow_blank=True)
    country = serializers.CharField(default="", allow_blank=True, max_length=2)
    told_by = serializers.CharField(default="", allow_blank=True, max_length=LONGEST_NAME)
    told_on = Day(default=None, allow_null=True)

    def validate_country(self, country: str) -> str:
        if country and country not in dict(countries()):
            raise serializers.ValidationError(_("There is no country with these two letters."))
        return country

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """What no blanket could keep is said of the rules as a whole."""
        told = attrs["rules"]
        sets = {name: frozenset(map(Fibre, told[name] or ())) or None for name in FIBRE_SETS}
        rules = attrs["rules"] = Rules(**{**told, **sets})
        today = timezone.localdate()
        wrong: dict[str, list[str]] = {}
        for field, words in told_wrongly(rules, attrs["told_by"], attrs["told_on"], today):
            wrong.setdefault(field or "rules", []).append(words)
        if wrong:
            raise serializers.ValidationError(wrong)
        return attrs


class RulesTold(TypedDict):
    """Sizes in cm, of whichever side is the shorter or longer one; null: not told.

    ``wanted``: these fibres and no others. ``temperature``: the °C at which the receiver washes,
    ``mild``: on a mild cycle. ``washed``: before it is given. ``label``: with fibres and care.
    """

    shorter_from: float | None
    shorter_to: float | None
    longer_from: float | None
    longer_to: float | None
    wanted: list[Annotated[str, Fibre]] | None
    refused: list[Annotated[str, Fibre]] | None
    animal: bool | None
    machine_wash: bool | None
    temperature: int | None
    mild: bool | None
    tumble: bool | None
    fringe: bool | None
    holes: bool | None
    smoke_free: bool | None
    pet_free: bool | None
    washed: bool | None
    label: bool | None
    for_babies: bool | None
    for_wheelchairs: bool | None


class MindedJson(TypedDict):
    """A caution of usual practice, to which the receiver's own rules come first; who says so."""

    detail: str
    source: str


class RulesJson(TypedDict):
    """``confirmed``: somebody at the receiver's told them; else they are typical, to be asked."""

    drive: int
    recipient: str
    rules: RulesTold
    kind: str
    country: str
    told_by: str
    told_on: Annotated[str, date] | None
    confirmed: bool
    cautions: list[MindedJson]


RulesSerializer = shape(RulesJson)


def rules_json(drive: Drive, receiver: Receiver | None) -> RulesJson:
    """``receiver`` is the drive's; None where nobody has written anything down."""
    day = receiver.told_on if receiver else None
    return {
        "drive": drive.pk,
        "recipient": drive.recipient,
        "rules": _told(receiver.rules if receiver else Rules()),
        "kind": receiver.kind if receiver else "",
        "country": drive.country,
        "told_by": receiver.told_by if receiver else "",
        "told_on": day.isoformat() if day else None,
        "confirmed": receiver is not None and receiver.confirmed,
        "cautions": [
            {"detail": each.detail, "source": each.source}
            for each in caution_words(*cautions_of(drive))
        ],
    }


def _told(rules: Rules) -> RulesTold:
    stored = stored_rules(rules)
    told: Any = {name: stored.get(name) for name in RulesTold.__annotations__}
    found: RulesTold = told
    return found
