"""The dye lots of a colour, and what is reserved, on the page of a blanket's yarn."""

import re

import pytest

from accounts.models import Circle
from drives.craft.fibre.fibres import Fibre
from drives.models import LotChoice, Reservation, Yarn
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import Desk
from tests.pages.conftest import Reader, words
from tests.store import new_yarn

WOOL = {Fibre.WOOL: 100}


@pytest.fixture
def desk(plan: Plan) -> Desk:
    """Four squares of navy."""
    desk = plan(2, 2)
    desk.blanket.squares.update(colour="Navy")
    return desk


@pytest.fixture
def lots(cast: Cast) -> list[Yarn]:
    """A and B are alike; of the third neither fibres nor lot are known."""
    known = {"category": 4, "fibres": WOOL}
    return [
        new_yarn(cast.cora, 60, dye_lot="A", **known),
        new_yarn(cast.cora, 50, dye_lot="B", **known),
        new_yarn(cast.cora, 40, category=5),
    ]


def page(desk: Desk, what: str = "") -> str:
    return f"/blankets/{desk.blanket.pk}/yarn/{what}"


def test_one_lot_is_counted_and_the_others_are_named(
    desk: Desk, lots: list[Yarn], vera: Reader
) -> None:
    text = vera.read(page(desk))
    assert "60 g in the store" in text
    assert "150 g" not in text
    assert "Dye lot B (50 g) is not counted unless you choose it here." in text
    assert "Dye lot not known (40 g) is of another thickness, so it is never mixed in." in text
    assert "Choose the dye lots" not in text


def test_a_coordinator_chooses_and_chooses_back(desk: Desk, lots: list[Yarn], cora: Reader) -> None:
    sent = {"colour": "Navy", "way": "never-side-by-side", "yarns": [lots[0].pk, lots[1].pk]}
    assert "The dye lots of Navy are noted." in cora.press(page(desk, "lots/"), sent)
    text = cora.read(page(desk))
    assert "110 g in the store" in text
    assert "Counted together with the others: never side by side." in text
    cora.press(page(desk, "lots/"), {"colour": "Navy", "way": "alone"})
    assert not LotChoice.objects.exists()
    assert "60 g in the store" in cora.read(page(desk))


def test_a_plan_that_has_more_squares_than_there_is_yarn_for_says_so(
    desk: Desk, lots: list[Yarn], cora: Reader, vera: Reader
) -> None:
    sent = {"colour": "Navy", "way": "never-side-by-side", "yarns": [lots[0].pk, lots[1].pk]}
    Yarn.objects.update(swatch_stitches=29, swatch_rows=29, swatch_grams=8)  # 8 g a square
    cora.press(page(desk, "lots/"), sent)
    too_many = "Dye lot A: the plan has more squares than there is yarn for."
    assert too_many not in cora.read(page(desk))
    Yarn.objects.filter(dye_lot="A").update(grams=1)
    assert f"{too_many} Place the lots again" in cora.read(page(desk))
    assert "Place the lots again" not in vera.read(page(desk))
    (told,) = cora.get(f"/api/v1/blankets/{desk.blanket.pk}/yarn/").json()["colours"]
    assert {each["dye_lot"] for each in told["lots"] if each["overfull"]} == {"A"}
    cora.press(page(desk, "lots/"), sent)
    assert too_many not in cora.read(page(desk))


def test_what_may_not_be_mixed_is_refused_beside_the_form(
    desk: Desk, lots: list[Yarn], cora: Reader
) -> None:
    sent = {"colour": "Navy", "way": "changed-at-a-seam", "yarns": [lots[0].pk, lots[2].pk]}
    answer = cora.post(page(desk, "lots/"), sent)
    assert answer.status_code == 409
    assert "“Navy” and “Navy (A)” are not equally thick: never mix them." in words(answer)


def test_yarn_is_reserved_and_freed(
    cast: Cast, desk: Desk, lots: list[Yarn], cora: Reader, vera: Reader
) -> None:
    assert "No other blanket can count on what is reserved here." in cora.read(page(desk))
    assert "Reserve yarn" not in vera.read(page(desk))
    sent = {"yarn": lots[1].pk, "amount": "40"}
    assert "Navy (B) is reserved." in cora.press(page(desk, "reserve/"), sent)
    text = cora.read(page(desk))
    assert "Navy dye lot B (40 g)" in text
    assert "40 g of it are reserved for this blanket." in text
    assert "reserved for Blanket: 40 g" in vera.read(f"/circles/{cast.circle.pk}/yarn/")
    assert "Reserved Blanket: 40 g" in vera.read(f"/yarn/{lots[1].pk}/")
    answer = cora.post(page(desk, "reserve/"), sent | {"amount": "51"})
    assert answer.status_code == 409
    assert "Of “Navy (B)” 50 g can be reserved" in words(answer)
    freed = cora.press(page(desk, "reserve/"), sent | {"amount": "0"})
    assert "Navy (B) is free again." in freed


def test_what_to_buy(cast: Cast, desk: Desk, lots: list[Yarn], cora: Reader, vera: Reader) -> None:
    Yarn.objects.filter(pk=lots[0].pk).update(ball_grams=50, price="2.75", grams=1)
    Yarn.objects.exclude(pk=lots[0].pk).update(grams=0)
    Circle.objects.update(currency="EUR")
    text = vera.read(page(desk))
    told = re.search(r"Buy (\d+) balls? of the same dye lot: Dye lot A\.", text)
    assert told
    assert f"Cost of the yarn to buy {int(told[1]) * 2.75:.2f} EUR" in text
    assert "balls of one new dye lot for all that is left to knit." in text
    assert "Let the two lots meet at a seam, or never side by side." in text
    assert "(of which box and packing: 200 g)" in text
    assert "Work it out again" not in text
    sent = {"certainty": "50", "border_ridges": "3", "border_colour": "Navy", "packaging": "120"}
    text = cora.press(page(desk, "buying/"), sent)
    assert "Worked out again." in text
    assert "This much is 50 % certain to be enough" in text
    answer = cora.post(page(desk, "buying/"), sent | {"certainty": "99"})
    assert answer.status_code == 422


def test_what_is_knitted_up_is_of_one_of_the_blankets(
    cast: Cast, plan: Plan, desk: Desk, lots: list[Yarn], cora: Reader
) -> None:
    other = plan(2, 2).blanket
    at = f"/yarn/{lots[0].pk}/"
    Reservation.objects.create(blanket=desk.blanket, yarn=lots[0], grams=30)
    assert "For which blanket" not in cora.read(at)
    Reservation.objects.create(blanket=other, yarn=lots[0], grams=20)
    assert "For which blanket" in cora.read(at)
    sent = {"amount": "10", "member": "store", "blanket": other.pk}
    cora.press(f"{at}knit-up/", sent)
    kept = Reservation.objects.order_by("pk").values_list("grams", flat=True)
    assert list(kept) == [30, 10]
    cora.press(f"{at}knit-up/", sent | {"blanket": ""})
    assert list(kept.all()) == [30, 10]
