"""Whose squares are too large or too small, seen at the first one, and who knits alike."""

from decimal import Decimal

import pytest
from django.core.cache import cache
from django.test import override_settings
from pytest_django import DjangoAssertNumQueries

from accounts.models import Circle
from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place
from drives.models import Measurement
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import Desk
from tests.pages.conftest import Reader


def measure(desk: Desk, place: str) -> str:
    return f"/blankets/{desk.blanket.pk}/squares/{place}/measure/"


def gauge(desk: Desk) -> str:
    return f"/blankets/{desk.blanket.pk}/gauge/"


def swatch(side: str, needle: str = "4", **more: object) -> dict[str, object]:
    return {
        "stitches": 20, "width": side, "ridges": 20, "height": side, "needle": needle, **more,
    }  # fmt: skip


@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    """Two panels of 2 × 2, at 20 stitches to 10 cm; Vera finished A1 and B1."""
    seams = frozenset(Seam.between(Place(2, row), Place(3, row)) for row in (1, 2))
    desk = plan(layout=Layout(4, 2, 20, seams=seams))
    desk.knit("A1 B1", cast.vera)
    return desk


def test_a_loose_first_square_is_seen_with_the_needle_to_try(
    desk: Desk, vera: Reader, cora: Reader
) -> None:
    card = vera.read(f"/blankets/{desk.blanket.pk}/squares/A1/")
    assert "along the bottom edge (20 stitches) and along the right edge (20 ridges)" in card
    text = vera.press(measure(desk, "A1"), {"width": "12", "height": "11", "needle": "4.5"})
    assert "It measures 12 cm × 11 cm." in text
    # 11.5 cm on average are 15 % more than 10, and 4.5 mm × 10 ÷ 11.5 are nearest to 4 mm.
    loose = "Knitted so loose, squares come out 15 % larger than planned."
    tried = "Try 4 mm (US 6, old UK 8) instead of 4.5 mm (US 7, old UK 7)."
    assert loose in text
    assert "A square is then 11.5 cm wide instead of 10 cm" in text
    assert "the blanket 46 cm × 23 cm instead of 40 cm × 20 cm" in text
    assert tried in text
    assert f"Vera: {loose} {tried}" in cora.read(f"/blankets/{desk.blanket.pk}/")
    assert loose not in vera.read(f"/blankets/{desk.blanket.pk}/")
    assert "Vera measured A1." in vera.read(f"/blankets/{desk.blanket.pk}/log/")


def test_without_the_needle_it_is_asked_for(desk: Desk, vera: Reader) -> None:
    text = vera.press(measure(desk, "A1"), {"width": "9", "height": "9", "needle": ""})
    assert "Knitted so tight, squares come out 10 % smaller than planned." in text
    assert "Try a larger needle. Tell which needle it was" in text


def test_a_square_as_planned_needs_nothing(desk: Desk, vera: Reader, cora: Reader) -> None:
    text = vera.press(measure(desk, "A1"), {"width": "10.2", "height": "10", "needle": "4"})
    assert "Within 5 % this is the planned gauge. Such squares join flat. Keep this needle." in text
    assert "What to look at" not in cora.read(f"/blankets/{desk.blanket.pk}/")


def test_the_needle_and_the_sides_come_back_to_be_corrected(desk: Desk, vera: Reader) -> None:
    vera.press(measure(desk, "A1"), {"width": "11", "height": "10.5", "needle": "4.5"})
    form = vera.get(f"/blankets/{desk.blanket.pk}/squares/A1/").context["sides"]
    told = [str(form[name].value()) for name in ("width", "height", "needle")]
    assert told == ["11.0", "10.5", "4.5"]
    other = vera.get(f"/blankets/{desk.blanket.pk}/squares/B1/").context["sides"]
    assert [other[name].value() for name in ("width", "needle")] == [None, "4.5"]


def test_what_cannot_be_is_said_at_the_field(desk: Desk, vera: Reader) -> None:
    for sent in ({}, {"width": "0.1", "height": "10"}, {"width": "x"}):
        response = vera.post(measure(desk, "A1"), sent)
        assert response.status_code == 422
        assert "width" in response.context["sides"].errors
    assert not Measurement.objects.exists()


def test_others_see_no_verdict(desk: Desk, cast: Cast, vera: Reader, cora: Reader) -> None:
    desk.knit("C1", cast.olga)
    card = f"/blankets/{desk.blanket.pk}/squares/C1/"
    cora.press(measure(desk, "C1"), {"width": "12", "height": "12", "needle": "4"})
    assert "It measures 12 cm × 12 cm." in cora.read(card)
    assert "It measures" not in vera.read(card)
    assert vera.post(measure(desk, "C1"), {"width": "9", "height": "9"}).status_code == 409


def test_a_swatch_before_the_first_square(desk: Desk, vera: Reader) -> None:
    assert "Nothing of yours is measured yet. Knit a swatch" in vera.read(gauge(desk))
    text = vera.press(gauge(desk), swatch("11"))
    assert "You knit 18.2 stitches to 10 cm, measured in a swatch of 20 stitches." in text
    assert "Knitted so loose, squares come out 10 % larger than planned." in text
    assert "Try 3.75 mm (US 5, old UK 9) instead of 4 mm" in text
    assert "How everybody knits it" not in text
    assert "Vera measured a swatch." in vera.read(f"/blankets/{desk.blanket.pk}/log/")


def test_rows_counted_as_ridges_are_seen(desk: Desk, vera: Reader) -> None:
    text = vera.press(gauge(desk), swatch("10", ridges=40))
    assert "two rows make one ridge. Count again." in text


def test_inches_where_the_circle_has_them(desk: Desk, cast: Cast, vera: Reader) -> None:
    Circle.objects.filter(pk=cast.circle.pk).update(units="in", english="american")
    assert "Their width, inches" in vera.read(gauge(desk))
    text = vera.press(gauge(desk), swatch("4"))
    # 4 inches are kept as 10.2 cm; planned are 20 stitches to 10 cm, 20.3 to 4 inches.
    assert "Gauge: Blanket The plan is 20.3 stitches to 4 inches." in text
    assert "You knit 19.9 stitches to 4 inches" in text
    assert Measurement.objects.get().width == Decimal("10.2")


def test_coordinators_see_everybody_and_note_for_those_on_paper(
    desk: Desk, cast: Cast, cora: Reader
) -> None:
    assert "Nobody has measured anything yet" in cora.read(gauge(desk))
    text = cora.press(gauge(desk), swatch("9", member=cast.paul.pk))
    assert "Paul a swatch of 20 stitches 4 mm (US 6, old UK 8) 22.2 stitches to 10 cm 9 cm" in text
    assert "squares come out 10 % smaller than planned. Try 4.5 mm" in text
    log = cora.read(f"/blankets/{desk.blanket.pk}/log/")
    assert "Cora measured a swatch for Paul." in log


def test_drift_is_shown(desk: Desk, cast: Cast, vera: Reader, cora: Reader) -> None:
    desk.knit("A2 B2", cast.vera)
    for place, side in zip(("A1", "B1", "A2", "B2"), ("9.6", "10", "10.4", "10.8"), strict=True):
        vera.press(measure(desk, place), {"width": side, "height": side, "needle": "4"})
    # 0.4 cm from one to the next: 1.2 of 10.2 cm.
    line = "The squares grow: the last of 4 is about 12 % larger than the first."
    assert "4 mm (US 6, old UK 8) 19.6 stitches to 10 cm 10.2 cm" in cora.read(gauge(desk))
    for address in (gauge(desk), f"/blankets/{desk.blanket.pk}/"):
        assert line in cora.read(address)
    assert line in vera.read(gauge(desk))


def test_who_knits_alike_is_offered_the_same_panels(
    desk: Desk, cast: Cast, vera: Reader, cora: Reader
) -> None:
    vera.press(gauge(desk), swatch("11"))
    for member, side in ((cast.olga, "11.2"), (cast.paul, "9")):
        cora.press(gauge(desk), swatch(side, member=member.pk))
    text = cora.read(gauge(desk))
    assert "Olga, Vera: These 2 knit alike: their gauges are 2 % apart at most" in text
    assert "Panels for them: A1–B2 (begun by them), C1–D2 (free)." in text
    assert "Paul: Nobody else knits like this member. Panels for them: C1–D2 (free)." in text
    mine = "These knit alike: Olga, Vera. Panels for you together: A1–B2 (begun by them), C1–D2"
    assert mine in vera.read(gauge(desk))
    assert "Paul" not in vera.read(gauge(desk))


def test_a_panel_that_others_began_is_for_nobody_else(desk: Desk, cast: Cast, cora: Reader) -> None:
    desk.claim("C1", cast.olga)
    for member, side in ((cast.olga, "11.2"), (cast.paul, "9")):
        cora.press(gauge(desk), swatch(side, member=member.pk))
    text = cora.read(gauge(desk))
    # Vera began A1–B2, and nobody knows how she knits.
    assert (
        "Olga: Nobody else knits like this member. Panels for them: C1–D2 (begun by them)." in text
    )
    assert "Paul: Nobody else knits like this member." in text
    assert "A1–B2" not in text


def test_squares_on_a_panel_of_ones_like_are_offered_with_that_reason(
    desk: Desk, cast: Cast, vera: Reader, olga: Reader
) -> None:
    board, reason = f"/blankets/{desk.blanket.pk}/", "On its panel, and knitting as you do: Vera."
    vera.press(gauge(desk), swatch("11"))
    assert reason not in olga.read(board)
    olga.press(gauge(desk), swatch("11.2", member=cast.olga.pk))
    told = olga.read(board)
    assert told.count(reason) == 1
    assert told.index("C1 cast on") < told.index("A2 pick up") < told.index(reason)
    assert "knitting as you do" not in vera.read(board)
    olga.press(gauge(desk), swatch("9", member=cast.olga.pk))
    assert reason not in olga.read(board)


def test_an_uncut_blanket_offers_the_cutting(plan: Plan, cast: Cast, olga: Reader) -> None:
    desk = plan()
    text = olga.press(gauge(desk), swatch("10", member=cast.olga.pk))
    assert "Cut the blanket into panels" in text
    assert "Panels for them" not in text


def test_strangers_find_nothing(desk: Desk, stan: Reader) -> None:
    assert stan.get(gauge(desk)).status_code == 404


@override_settings(DEBUG=False)
@pytest.mark.parametrize(("side", "people"), [(4, 1), (12, 3)])
def test_it_takes_as_many_queries_at_any_size(
    plan: Plan,
    cast: Cast,
    cora: Reader,
    vera: Reader,
    django_assert_num_queries: DjangoAssertNumQueries,
    side: int,
    people: int,
) -> None:
    seams = frozenset(Seam.between(Place(2, row + 1), Place(3, row + 1)) for row in range(side))
    desk = plan(layout=Layout(side, side, 20, seams=seams))
    for member in (cast.vera, cast.olga, cast.paul)[:people]:
        cora.press(gauge(desk), swatch("10", member=member.pk))
    with django_assert_num_queries(9):
        cora.get(gauge(desk))
    cache.clear()
    with django_assert_num_queries(17):  # three for who knits alike, one for names in the log
        vera.get(f"/blankets/{desk.blanket.pk}/")
