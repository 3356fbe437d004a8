"""The receiver's rules on paper: what is not confirmed, what goes against them, what is minded."""

from datetime import date
from typing import Any

import pytest

from drives.actions.colours.by_hand import colour_squares
from drives.actions.drives.rules import note_rules, overrule_conflict
from drives.actions.yarn.store import change_yarn
from drives.craft.fibre.fibres import Fibre
from drives.craft.places import Place
from drives.craft.receivers.cautions import Caution
from drives.craft.receivers.rules import Rules
from drives.models import Blanket, Drive
from drives.readings.checks import drive_checks
from drives.sheets.kind import Document
from drives.sheets.kinds import CARDS, FINISHING, MEETING, STATUS
from drives.words.cautions import SENTENCES
from tests.cast import Cast
from tests.desk import NOW, Desk
from tests.sheets.conftest import ask
from tests.sheets.paper import Printed
from tests.store import FACTS, new_yarn

NOT_CONFIRMED = "The rules of the receiver are not confirmed yet: ask them before anybody knits."
NO_WOOL = Rules(refused=frozenset({Fibre.WOOL}))
TOLD: dict[str, Any] = {"told_by": "The matron", "told_on": date(2026, 11, 1)}
WOOL = {Fibre.ACRYLIC: 80, Fibre.WOOL: 20}


def note(desk: Desk, cast: Cast, rules: Rules, **more: Any) -> None:
    note_rules(drive=desk.blanket.drive, by=cast.olga, now=NOW, rules=rules, **more)


def printed(desk: Desk, cast: Cast, kind: Document) -> str:
    return Printed(ask(again(desk), cast, kind=kind)).words


def again(desk: Desk) -> Blanket:
    return Blanket.objects.select_related("drive__circle").get(pk=desk.blanket.pk)


@pytest.mark.parametrize("kind", [STATUS, MEETING, FINISHING])
def test_says_until_then_that_nobody_has_confirmed_them(
    desk: Desk, cast: Cast, kind: Document
) -> None:
    assert NOT_CONFIRMED in printed(desk, cast, kind)


def test_the_finishing_list_says_what_goes_against_them_and_what_was_overruled(
    desk: Desk, cast: Cast
) -> None:
    note(desk, cast, Rules(shorter_from=40, refused=NO_WOOL.refused), **TOLD)
    new_yarn(cast.cora, colour="moss", fibres=WOOL)
    moss = {Place.parse("A1"): "moss"}
    colour_squares(blanket=desk.blanket, by=cast.cora, colours=moss, now=NOW)
    drive = Drive.objects.get(pk=desk.blanket.drive_id)
    wool = drive_checks(drive)[-1]
    overrule_conflict(drive=drive, by=cast.olga, check=wool, reason="The matron said yes.", now=NOW)
    words = printed(desk, cast, FINISHING)
    assert NOT_CONFIRMED not in words
    assert "on its shorter side; the receiver takes 40 cm or more: it is 10 cm short." in words
    assert (
        "“moss” has 20 % wool; the receiver refuses it. Overruled by Olga on 2 November 2026: "
        "“The matron said yes.”" in words
    )
    assert "Take a yarn without wool" not in words


@pytest.mark.parametrize(
    ("country", "kind", "told", "silent"),
    [
        ("US", STATUS, Caution.AMERICAN_SLEEP, Caution.BRITISH_SLEEP),
        ("GB", FINISHING, Caution.BRITISH_SLEEP, Caution.AMERICAN_SLEEP),
    ],
)
def test_minds_what_is_advised_in_the_receivers_country(
    desk: Desk, cast: Cast, country: str, kind: Document, told: Caution, silent: Caution
) -> None:
    note(desk, cast, Rules(), country=country)
    words = printed(desk, cast, kind)
    assert str(SENTENCES[told]) in words
    assert str(SENTENCES[silent]) not in words


def test_a_card_minds_babies_where_the_receiver_has_them(desk: Desk, cast: Cast) -> None:
    assert "No fringe, bows, buttons or long floats." in printed(desk, cast, CARDS)
    note(desk, cast, Rules(for_babies=False))
    assert "No fringe" not in printed(desk, cast, CARDS)


def test_other_rules_make_another_document(desk: Desk, cast: Cast) -> None:
    yarn = new_yarn(cast.cora, colour="moss", fibres=WOOL)
    moss = {Place.parse("A1"): "moss"}
    colour_squares(blanket=desk.blanket, by=cast.cora, colours=moss, now=NOW)

    def sheets() -> list[int]:
        kinds = (STATUS, FINISHING)
        return [ask(again(desk), cast, kind=kind).pk for kind in kinds]

    seen = sheets()

    def another(*, status: bool = True) -> bool:
        nonlocal seen
        before, seen = seen, sheets()
        return [old != new for old, new in zip(before, seen, strict=True)] == [status, True]

    note(desk, cast, NO_WOOL)
    assert another()
    note(desk, cast, NO_WOOL, country="US")
    assert another()
    note(desk, cast, NO_WOOL, country="US", **TOLD)
    assert another()
    drive = again(desk).drive
    (check,) = drive_checks(drive)
    overrule_conflict(drive=drive, by=cast.olga, check=check, reason="They said yes.", now=NOW)
    assert another(status=False)
    facts: Any = FACTS | {"colour": "moss", "fibres": {Fibre.ACRYLIC: 100}}
    change_yarn(yarn=yarn, by=cast.cora, now=NOW, **facts)
    assert another(status=False)
    assert sheets() == seen
