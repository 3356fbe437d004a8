"""The gift record, read back from the finished PDF."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from accounts.actions import add_paper_member
from accounts.models import Member
from drives.craft.layout.layout import Layout
from drives.models import Gift, Paper, Square
from drives.sheets.kinds import GIFT
from tests.cast import Cast
from tests.desk import NOW, Desk, new_blanket
from tests.sheets.conftest import ask
from tests.sheets.kinds.test_status import SIZES, everything_finished
from tests.sheets.paper import Printed
from tests.sheets.pictures import colourful


def record(desk: Desk, cast: Cast, **chosen: Any) -> Printed:
    return Printed(ask(desk.blanket, cast, kind=GIFT, **chosen))


def may_be_named(*members: Member) -> None:
    Member.objects.filter(pk__in=[member.pk for member in members]).update(may_be_named=True)


def test_says_what_is_known_and_what_is_not(desk: Desk, cast: Cast) -> None:
    printed = record(desk, cast)
    for words in (
        "Blanket",
        "a gift for Moorside ward",
        "Its size about 30 cm × 30 cm, as it was planned",
        "Its fibres not known",
        "To care for it Not known: please ask who gave it.",
        "Please mind Keep loose blankets out of the place where a baby under one year sleeps",
        "Knitted by Harbour Lane.",
    ):
        assert words in printed.words
    assert "fringe" not in printed.words  # that is for makers
    Gift.objects.create(
        blanket=desk.blanket,
        width=Decimal("30.5"),
        height=Decimal(31),
        fibres="100 % cotton",
        care={"wash": "MACHINE_60", "tumble": "LOW"},
        given_on=date(2026, 12, 1),
    )
    printed = record(desk, cast)
    for words in (
        "1 Dec 2026",
        "Its size 30.5 cm × 31 cm Its fibres 100 % cotton",
        "Wash in the machine at 60 °C at most. Tumble dry at low heat. Please mind",
    ):
        assert words in printed.words


def test_names_only_those_who_agreed(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    desk.knit("A2", cast.olga)
    words = record(desk, cast).words
    assert "Knitted by 2 people of Harbour Lane." in words
    assert "Who knitted it" not in words
    may_be_named(cast.vera, cast.cora)  # Cora has knitted nothing of it
    words = record(desk, cast).words
    assert "Knitted by 2 people of Harbour Lane." in words
    assert "Who knitted it Among them: Vera." in words
    assert "Olga" not in words
    assert "Cora" not in words
    may_be_named(cast.olga)
    assert "Who knitted it Olga and Vera." in record(desk, cast).words


@pytest.mark.parametrize(("paper", "size"), [(Paper.A4, "normal"), (Paper.LETTER, "large")])
def test_lies_across_and_is_whole_however_much_is_told(cast: Cast, paper: Paper, size: str) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(5, 6, 20), for_babies=True, recipient="W " * 60))
    everything_finished(desk.blanket, cast)
    names = [f"Philippa Brightwater the {number}." for number in range(30)]
    for square, name in zip(desk.blanket.squares.all(), names, strict=True):
        maker = add_paper_member(by=cast.olga, name=name, reach="", hand="right", now=NOW)
        may_be_named(maker)
        Square.objects.filter(pk=square.pk).update(knitter=maker)
    care = {"wash": "MACHINE_40_VERY_MILD", "bleach": "OXYGEN", "tumble": "NOT"}
    care |= {"natural": "DRIP_FLAT_SHADE", "iron": "MEDIUM_DRY", "dry_clean": "F_MILD"}
    Gift.objects.create(blanket=desk.blanket, care=care | {"wet_clean": "VERY_MILD"})
    printed = record(desk, cast, paper=paper, print=size)
    assert len(printed.pages) == {"normal": 1, "large": 2}[size]
    width, height = SIZES[paper]
    assert printed.size_mm() == pytest.approx((height, width), abs=0.01)
    for words in (*names, "Professional wet cleaning W, very mild process.", "keep you warm."):
        assert words in printed.words


def test_shows_the_blanket_in_its_colours(desk: Desk, cast: Cast) -> None:
    desk.blanket.squares.update(colour="teal")
    printed = record(desk, cast)
    assert colourful(printed.bytes) > 0.05
    assert colourful(record(desk, cast, ink="black").bytes) == 0
    figures = [tag for tag in printed.tags() if tag["/S"] == "/Figure"]
    assert [str(figure["/Alt"]) for figure in figures] == ["Drawing of Blanket"]
    kinds = [tag["/S"] for tag in printed.tags()]
    assert (kinds.count("/H1"), kinds.count("/H2")) == (1, 2)
    assert kinds.index("/H1") < kinds.index("/H2")


def test_is_made_anew_when_somebody_agrees_or_the_receiver_is_known_better(
    desk: Desk, cast: Cast
) -> None:
    desk.knit("A1", cast.vera)
    first = ask(desk.blanket, cast, kind=GIFT)
    assert ask(desk.blanket, cast, kind=GIFT) == first
    may_be_named(cast.vera)
    second = ask(desk.blanket, cast, kind=GIFT)
    assert second != first
    desk.blanket.drive.country = "US"
    assert ask(desk.blanket, cast, kind=GIFT) != second
