"""Weighing a square right after finishing it, and what the blanket then says of its yarn."""

from decimal import Decimal

import pytest
from django.core.cache import cache
from django.test import override_settings
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from accounts.models import Circle
from drives.actions.squares.weights import weigh_square
from drives.actions.yarn.ledger import receive_yarn
from drives.models import Square, Yarn
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import Desk
from tests.pages.conftest import Reader, words


def card(desk: Desk, place: str, act: str = "") -> str:
    return f"/blankets/{desk.blanket.pk}/squares/{place}/{act and act + '/'}"


def yarn(desk: Desk) -> str:
    return f"/blankets/{desk.blanket.pk}/yarn/"


def add(cast: Cast, grams: int, colour: str = "rust") -> Yarn:
    return Yarn.objects.create(
        circle=cast.circle, colour=colour, value="#aa4422", grams=grams, added_at=timezone.now()
    )


def scale(desk: Desk, cast: Cast, *grams: float) -> None:
    """The squares A1, B1, … weigh so much."""
    for column, weight in zip("ABCDEFGH", grams, strict=False):
        square = desk.square(f"{column}1")
        weigh_square(square=square, by=cast.olga, grams=Decimal(str(weight)), now=timezone.now())


@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    """A1 to C1 finished by Vera, D1 to F1 open; all rust."""
    desk = plan(6, 1)
    desk.knit("A1 B1 C1", cast.vera)
    Square.objects.update(colour="rust")
    return desk


def test_the_weight_is_asked_for_as_soon_as_the_square_is_finished(
    cast: Cast, vera: Reader, plan: Plan
) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    text = vera.press(card(desk, "A1", "finish"))
    assert "A1 is finished. Thank you!" in text
    assert "Weight in grams" in text
    text = vera.press(card(desk, "A1", "weigh"), {"weight": "12.5"})
    assert "Noted: A1 weighs 12.5 g. Thank you!" in text
    assert "It weighs 12.5 g." in text
    assert desk.square("A1").grams == Decimal("12.5")
    assert "Vera weighed A1: 12.5 g." in vera.read(f"/blankets/{desk.blanket.pk}/log/")


def test_others_read_the_weight_and_are_not_asked(
    cast: Cast, cora: Reader, vera: Reader, plan: Plan
) -> None:
    desk = plan()
    desk.knit("A1", cast.olga)
    assert "Weight in grams" not in vera.read(card(desk, "A1"))
    text = cora.press(card(desk, "A1", "weigh"), {"weight": "8"})
    assert "It weighs 8 g." in text
    text = vera.read(card(desk, "A1"))
    assert "It weighs 8 g." in text
    assert "Weight in grams" not in text
    log = vera.read(f"/blankets/{desk.blanket.pk}/log/")
    assert "Cora noted that Olga’s A1 weighs 8 g." in log


def test_what_no_square_weighs_is_said_at_the_field(desk: Desk, vera: Reader) -> None:
    for sent in ("", "0", "0.4", "5001", "much", "-8"):
        response = vera.post(card(desk, "A1", "weigh"), {"weight": sent})
        assert response.status_code == 422
        assert response.context["weighing"].errors
    assert desk.square("A1").grams is None


def test_what_is_not_finished_is_refused_by_its_card(desk: Desk, vera: Reader) -> None:
    response = vera.post(card(desk, "D1", "weigh"), {"weight": "8"})
    assert response.status_code == 409
    assert "D1 is not finished yet" in words(response)


def test_a_mistyped_weight_is_named_gently(
    cast: Cast, plan: Plan, vera: Reader, cora: Reader
) -> None:
    desk = plan(6, 1)
    desk.knit("A1 B1 C1 D1 E1", cast.vera)
    scale(desk, cast, 8, 8.5, 7.5, 8)
    text = vera.press(card(desk, "E1", "weigh"), {"weight": "85"})
    assert "That is far from the others, so it counts for nothing. Weigh it again?" in text
    assert "Far from the others, so left out: E1. Weigh again." in vera.read(yarn(desk))
    look = "Far from the others by weight, so left out: E1. Weigh again."
    assert look in cora.read(f"/blankets/{desk.blanket.pk}/")
    text = vera.press(card(desk, "E1", "weigh"), {"weight": "8.5"})
    assert "far from the others" not in text
    assert look not in cora.read(f"/blankets/{desk.blanket.pk}/")


def test_a_first_weight_that_no_yarn_has_is_named_too(desk: Desk, vera: Reader) -> None:
    text = vera.press(card(desk, "A1", "weigh"), {"weight": "85"})
    assert "So many stitches hardly weigh that in any yarn. Weigh it again?" in text
    text = vera.press(card(desk, "A1", "weigh"), {"weight": "8.5"})
    assert "hardly weigh" not in text


def test_a_circle_that_weighs_in_ounces(cast: Cast, vera: Reader, plan: Plan) -> None:
    Circle.objects.filter(pk=cast.circle.pk).update(units="in")
    desk = plan()
    desk.knit("A1", cast.vera)
    text = vera.press(card(desk, "A1", "weigh"), {"weight": "0.44"})
    # 0.44 oz of 28.35 g (agreement of 1959) are 12.5 g.
    assert desk.square("A1").grams == Decimal("12.5")
    assert "It weighs 0.44 oz." in text


def test_a_colour_says_what_it_takes_and_whether_there_is_enough(
    cast: Cast, desk: Desk, vera: Reader
) -> None:
    add(cast, 100)
    scale(desk, cast, 8, 8, 8)
    text = vera.read(yarn(desk))
    # Three squares, by hand in tests/readings/test_supply.py: 24 g and 2.13 × 1.22 g about it;
    # the higher figure with 3 % for tails and 10 % to spare.
    assert "rust 3 21–31 g It rests on 3 weighed squares of this blanket." in text
    assert (
        "100 g in the store Rust is enough for the last 3 squares with a chance of more than 99 %."
        in text
    )
    assert "The 3 squares that are left take 21–31 g." in text
    assert "Weigh a finished square" not in text


def test_what_to_do_first_where_nothing_is_known(cast: Cast, desk: Desk, vera: Reader) -> None:
    text = vera.read(yarn(desk))
    assert "Weigh a finished square" in text
    assert "Not known: weigh a finished square, or enter a weighed swatch" in text
    assert "No yarn of this name is in the store." in text
    Square.objects.update(colour="")
    assert "No square has a colour yet" in vera.read(yarn(desk))


def test_a_finished_blanket_needs_no_more(cast: Cast, plan: Plan, vera: Reader) -> None:
    desk = plan(1, 1)
    desk.knit("A1", cast.vera)
    assert "no more yarn is needed" in vera.read(yarn(desk))


def test_the_last_square_it_suffices_for_is_told_before_it_is_begun(
    cast: Cast, desk: Desk, vera: Reader, cora: Reader
) -> None:
    add(cast, 10)  # 9.15 g for one square, 17.91 g for two
    scale(desk, cast, 8, 8, 8)
    warning = "only the next one is safe."
    assert warning in vera.read(card(desk, "D1"))
    assert warning in vera.press(card(desk, "D1", "claim"))
    assert warning not in vera.read(card(desk, "E1"))  # it waits
    assert warning not in vera.read(card(desk, "A1"))
    assert warning in vera.read(yarn(desk))
    board = f"/blankets/{desk.blanket.pk}/"
    assert "What to look at Rust is enough for the last 3 squares with" in cora.read(board)
    assert "What to look at" not in vera.read(board)
    _without_an_event(grams=20)
    assert "of them are safe" not in vera.read(card(desk, "D1"))
    assert "2 of them are safe." in cora.read(board)  # who can still find more
    _without_an_event(grams=100)
    assert "What to look at" not in cora.read(board)


def _without_an_event(grams: int) -> None:
    """Which is what the board looks for before it counts again."""
    Yarn.objects.update(grams=grams)
    cache.clear()


def test_what_others_need_is_not_there(cast: Cast, desk: Desk, plan: Plan, vera: Reader) -> None:
    add(cast, 100)
    scale(desk, cast, 8, 8, 8)
    plan(2, 1)
    Square.objects.filter(colour="").update(colour="rust")
    assert "Other blankets still need about 16 g of it." in vera.read(yarn(desk))


def test_what_is_knitted_up_is_to_be_noted(cast: Cast, desk: Desk, vera: Reader) -> None:
    Yarn.objects.filter(pk=add(cast, 100).pk).update(added_at=desk.blanket.created_at)
    scale(desk, cast, 8, 8, 8)
    told = "About 24 g of it is in finished squares already: note it as knitted up."
    assert told in vera.read(yarn(desk))


def test_what_the_whole_blanket_takes_follows_its_weighed_squares(
    cast: Cast, desk: Desk, vera: Reader
) -> None:
    takes = f"/blankets/{desk.blanket.pk}/takes/"
    assert "weighed square" not in vera.read(takes)
    scale(desk, cast, 8, 8, 8)
    text = vera.read(takes, {"category": "3", "length": "200"})
    # Six squares are 48 g; sigma is 6 × 0.287 and √6 × 0.496 together, 2.11; 2.13 of it about.
    assert "Yarn 43–60 g, 87–120 metres. It rests on 3 weighed squares of this blanket." in text
    told = vera.read(takes, {"weights": "9"})
    assert "It rests on 1 weighed square." in told


@override_settings(DEBUG=False)
@pytest.mark.parametrize("side", [3, 12])
def test_it_takes_as_many_queries_at_any_size(
    cast: Cast,
    plan: Plan,
    vera: Reader,
    cora: Reader,
    django_assert_num_queries: DjangoAssertNumQueries,
    side: int,
) -> None:
    add(cast, 100)
    desk = plan(side, side)
    desk.knit("A1", cast.vera)
    scale(desk, cast, 8)
    Square.objects.update(colour="rust")
    vera.get(yarn(desk))  # the plan is worked out once
    with django_assert_num_queries(19):
        vera.get(yarn(desk))
    with django_assert_num_queries(12):  # one of them for how its yarns look; so below
        vera.get(card(desk, "A1"))
    board = f"/blankets/{desk.blanket.pk}/"
    cora.get(board)
    with django_assert_num_queries(12):
        cora.get(board)
    receive_yarn(yarn=Yarn.objects.get(), grams=1, by=cast.cora, now=timezone.now())
    with django_assert_num_queries(22):
        cora.get(board)
