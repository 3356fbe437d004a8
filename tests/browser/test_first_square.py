"""A loose first square is seen as soon as it is measured; the yarn, before its last square."""

from decimal import Decimal

import pytest
from django.utils import timezone

from drives.actions.squares.measurements import Measured, measure_square
from drives.actions.squares.weights import weigh_square
from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place
from drives.models import Square, Yarn
from tests.cast import Cast
from tests.desk import Desk, new_blanket

from .conftest import NARROW, WIDE, SignIn
from .looks import faults

pytestmark = pytest.mark.browser


@pytest.fixture
def desk(cast: Cast) -> Desk:
    """Two panels, all rust, of which there is little; Olga finished C1 and D1, Vera has A1."""
    now = timezone.now()
    seams = frozenset(Seam.between(Place(2, row), Place(3, row)) for row in (1, 2))
    desk = Desk(new_blanket(cast.olga, Layout(4, 2, 20, seams=seams)))
    desk.knit("C1 D1", cast.olga, at=now)
    Square.objects.update(colour="rust")
    for place, side in (("C1", "10"), ("D1", "10.3")):
        square, cm = desk.square(place), Decimal(side)
        weigh_square(square=square, by=cast.olga, grams=Decimal(8), now=now)
        measure_square(
            blanket=desk.blanket,
            member=cast.olga,
            by=cast.olga,
            square=square,
            measured=Measured(20, cm, 20, cm, Decimal(4)),
            now=now,
        )
    Yarn.objects.create(
        circle=cast.circle, colour="rust", value="#aa4422", grams=13, added_at=timezone.now()
    )
    desk.claim("A1", cast.vera, at=now)
    return desk


def test_what_a_first_square_tells(cast: Cast, desk: Desk, sign_in: SignIn) -> None:
    vera = sign_in(cast.vera.user)
    card = f"/blankets/{desk.blanket.pk}/squares/A1/"
    vera.goto(card)
    vera.get_by_text("only the next one is safe").wait_for()
    vera.get_by_role("button", name="A1 is finished").click()
    vera.get_by_label("Weight in grams").fill("9.5")
    vera.get_by_role("button", name="Note the weight").click()
    vera.get_by_text("It weighs 9.5 g.").wait_for()
    vera.get_by_label("Bottom edge, cm").fill("11.5")
    vera.get_by_label("Right edge, cm").fill("11")
    vera.get_by_label("Needle").select_option("4.5")
    vera.get_by_role("button", name="Is it as planned?").click()
    vera.get_by_text("Try 4 mm (US 6, old UK 8)").wait_for()
    found = faults(vera, WIDE, NARROW)
    cora = sign_in(cast.cora.user)
    for page in ("", "gauge/", "yarn/"):
        cora.goto(f"/blankets/{desk.blanket.pk}/{page}")
        found += faults(cora, WIDE, NARROW)
        assert cora.get_by_text("rust" if page == "yarn/" else "Try 4 mm").count()
    assert found == []
