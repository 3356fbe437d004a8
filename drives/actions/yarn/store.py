"""What is known of the yarns in a circle's store."""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal
from typing import Any, NotRequired, TypedDict, Unpack

from accounts.actions.locks import hold_circle
from accounts.models import Circle, Member
from drives.actions import refusals
from drives.actions.locks import hold_yarn
from drives.actions.log import note_circle
from drives.craft.fibre.care import Care
from drives.craft.fibre.fibres import Fibres
from drives.craft.yarn.weighing import Swatch
from drives.models import Yarn, YarnWay, told_care
from shared.basics.changes import save_changed
from shared.basics.totals import require_room
from shared.basics.transactions import writing

from . import ledger

MOST_IN_A_BALL = 10_000  # grams: a cone, and more


class Ball(TypedDict, total=False):
    """What one ball of a yarn weighs and costs; meanings as on the row."""

    ball_grams: int | None
    price: Decimal | None


class YarnSettings(TypedDict):
    """What there is to know of a yarn; meanings as on the row."""

    colour: str
    value: str
    dye_lot: str
    category: int | None
    fibres: Fibres | None
    metres_per_100_grams: int | None
    ball_grams: NotRequired[int | None]
    price: NotRequired[Decimal | None]
    care: Care
    fast: bool | None
    swatch: Swatch | None
    given_by: str
    place: str


class Names:
    """The colours and dye lots of a circle that is held, ``but`` those of one yarn.

    A colour has one spelling, for blankets find their yarn by it.
    """

    def __init__(self, circle: Circle, but: Yarn | None = None) -> None:
        self.circle = hold_circle(circle.pk)
        others = Yarn.objects.filter(circle=circle).exclude(pk=but.pk if but else 0)
        self._spelt: dict[str, str] = {}
        self._yarns: dict[tuple[str, str], Yarn] = {}
        for yarn in others.order_by("pk"):
            self.add(yarn)

    def add(self, yarn: Yarn) -> None:
        self._spelt.setdefault(yarn.colour.casefold(), yarn.colour)
        self._yarns[yarn.colour.casefold(), yarn.dye_lot.casefold()] = yarn

    def spelt(self, colour: str) -> str:
        """``colour`` as the store spells it already."""
        return self._spelt.get(colour.casefold(), colour)

    def same(self, settings: YarnSettings) -> Yarn | None:
        """The yarn of this colour and dye lot."""
        return self._yarns.get((settings["colour"].casefold(), settings["dye_lot"].casefold()))

    def columns(self, settings: YarnSettings) -> dict[str, Any]:
        """What a row has for ``settings`` that no other yarn has. Refused: yarn-is-there."""
        if same := self.same(settings):
            raise refusals.yarn_is_there(same)
        return columns({**settings, "colour": self.spelt(settings["colour"])})


def add_yarn(
    *, circle: Circle, grams: int, by: Member, now: datetime, **settings: Unpack[YarnSettings]
) -> Yarn:
    """A yarn with its first ``grams``, which may be none. Refused: yarn-is-there."""
    with writing():
        names = Names(circle)
        facts = names.columns(settings)
        require_room("yarns", Yarn.objects.filter(circle=names.circle))
        yarn = Yarn.objects.create(circle=names.circle, added_at=now, **facts)
        if grams:
            ledger.write_move(yarn, YarnWay.RECEIVED, by, now, grams=grams)
            yarn.grams = grams
        note_circle(names.circle, by, "yarn-added", now, yarn=str(yarn), id=yarn.pk, grams=grams)
    return yarn


def change_yarn(*, yarn: Yarn, by: Member, now: datetime, **settings: Unpack[YarnSettings]) -> Yarn:
    """The yarn with these settings. Refused: yarn-is-there."""
    with writing():
        names = Names(yarn.circle, but=yarn)
        yarn = hold_yarn(yarn)
        if changed := save_changed(yarn, names.columns(settings)):
            facts = {"yarn": str(yarn), "id": yarn.pk, "changed": changed}
            note_circle(names.circle, by, "yarn-changed", now, **facts)
    return yarn


def note_ball(*, yarn: Yarn, by: Member, now: datetime, **told: Unpack[Ball]) -> Yarn:
    """The yarn with what is ``told`` of its balls; what is not told stays."""
    with writing():
        yarn = hold_yarn(yarn)
        if changed := save_changed(yarn, told):
            facts = {"yarn": str(yarn), "id": yarn.pk, "changed": changed}
            note_circle(yarn.circle, by, "yarn-changed", now, **facts)
    return yarn


def columns(settings: Mapping[str, Any]) -> dict[str, Any]:
    """Some or all of ``YarnSettings`` as a row keeps them."""
    found = dict(settings)
    if fibres := found.get("fibres"):
        found["fibres"] = {fibre.value: share for fibre, share in fibres.items()}
    if "care" in found:
        found["care"] = told_care.stored_care(found["care"])
    if "swatch" in found:
        swatch = found.pop("swatch")
        found["swatch_stitches"] = swatch and swatch.stitches
        found["swatch_rows"] = swatch and swatch.rows
        found["swatch_grams"] = swatch and Decimal(str(swatch.grams))
    return found
