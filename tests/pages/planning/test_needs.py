"""What a blanket takes: stitches, border, hours and yarn, and what each of them rests on."""

from typing import Any

import pytest

from accounts.models import Circle
from drives.craft.layout.layout import Large, Layout
from drives.craft.places import Place
from tests.cast import Cast
from tests.conftest import Plan
from tests.pages.conftest import Reader, words

# Two squares of 20 stitches and one of 40; TRADE.md, section 2: 2 × 841 + 3281 stitches.
MIXED = Layout(3, 2, 20, large=frozenset({Large(Place(2, 1), 2)}))
FORM: dict[str, Any] = {
    "columns": 3, "rows": 2, "stitches": 20, "mitre": "paired", "corner_trade": "on",
    "missing": "", "large": "B1×2", "seams": "", "brush": 1, "past": "", "gauge": 20,
}  # fmt: skip


@pytest.fixture
def address(plan: Plan) -> str:
    return f"/blankets/{plan(layout=MIXED).blanket.pk}/takes/"


def test_it_tells_the_counts_and_what_the_hours_rest_on(vera: Reader, address: str) -> None:
    text = vera.read(address)
    assert "Size 30 cm × 20 cm Squares 3 Rounds 3" in text
    assert "Stitches 4,963 in all squares together" in text
    # 4963 stitches at 30 and at 15 a minute are 2.8 and 5.5 hours, and the ends 0.1.
    assert "Hours 2–6 with weaving in. It rests on a usual pace of 15 to 30 stitches" in text
    assert "Yarn Weigh one square, or choose the yarn’s category." in text
    assert "Pick up" not in text


def test_hours_from_squares_by_the_clock(vera: Reader, address: str) -> None:
    # 4963 ÷ 841 = 5.9 squares of 60 to 120 minutes, and the ends 0.1 hours.
    text = vera.read(address, {"minutes": "60 120"})
    assert "Hours 5–12 with weaving in. It rests on 2 squares by the clock" in text
    # One alone may turn out quicker or slower (45 minutes fell to 25): 60 are 44.7 to 80.5.
    text = vera.read(address, {"minutes": "60"})
    assert "Hours 4–9 with weaving in. It rests on 1 square by the clock" in text


def test_yarn_from_a_square_on_a_scale(vera: Reader, address: str) -> None:
    # 5.9 × (8 ± 0.5) g, then 3 % for tails and 10 % to spare: 44.3 to 56.8 g, at 2.1 m to 1 g.
    text = vera.read(address, {"weights": "8", "length": "210"})
    assert "Yarn 44–57 g, 92–120 metres. It rests on 1 weighed square." in text
    # Read to a tenth of a gram it is known better: 46.9 to 53.9 g.
    assert "Yarn 46–54 g. It rests on 1 weighed square." in vera.read(address, {"weights": "8.0"})


def test_yarn_from_a_weighed_swatch(vera: Reader, address: str) -> None:
    # 30 × 60 stitches weigh 20 ± 0.5 g, so 4963 weigh 53.8 to 64.1 g.
    text = vera.read(address, {"weights": "20", "swatch": "30x60"})
    assert "Yarn 53–65 g. It rests on 1 weighed swatch." in text


def test_yarn_from_its_category_where_nothing_is_weighed(vera: Reader, address: str) -> None:
    # 4963 stitches of 5 mm, 3.7 to 5.7 widths each: 91.8 to 160.3 m; 30.6 to 66.8 g.
    text = vera.read(address, {"category": "3"})
    assert "Yarn 30–67 g, 91–170 metres. It rests on what is usual for category 3 (light)" in text
    assert "Craft Yarn Council’s Standard Yarn Weight System" in text
    assert "1 weighed square" in vera.read(address, {"category": "3", "weights": "8"})


def test_a_border_is_counted_side_by_side(vera: Reader, address: str) -> None:
    # TRADE.md, section 5: 3 × 20 and 2 × 20 stitches a side; 8 ridges are 4 cm.
    text = vera.read(address, {"border": "8"})
    assert (
        "Border Pick up 60 along the bottom, 40 along the right side, 60 along the top and 40 "
        "along the left side, and 1 in each of the 4 corners: 204 together. "
        "With its 8 ridges the blanket measures 38 cm × 28 cm." in text
    )


def test_circles_that_weigh_in_ounces_read_ounces_and_yards(
    cast: Cast, vera: Reader, address: str
) -> None:
    Circle.objects.filter(pk=cast.circle.pk).update(units="in")
    # 5.9 × (0.5 ± 0.05) oz, 13 % to spare: 2.66 to 3.68 oz; 1 oz is 28.35 g (agreement of 1959),
    # so 75.3 to 104.2 g, at 2.3 yards to 1 g 173 to 240 yards.
    text = vera.read(address, {"weights": "0.5", "length": "230"})
    assert "Yarn 2–4 oz, 170–240 yards." in text
    assert "In ounces, of the smallest square" in text
    assert "Yards to 100 g" in text


@pytest.mark.parametrize(
    ("told", "sentence"),
    [
        ({"border": "0"}, "Ensure this value is greater than or equal to 1."),
        ({"minutes": "soon"}, "Write numbers like 8 or 8.5"),
        ({"minutes": "0"}, "Write numbers like 8 or 8.5"),
        ({"weights": "1e9"}, "Write numbers like 8 or 8.5"),
        ({"weights": "-8"}, "Write numbers like 8 or 8.5"),
        ({"swatch": "30"}, "Write its stitches and its rows like 30 × 60."),
        ({"swatch": "0×60"}, "Write its stitches and its rows like 30 × 60."),
        ({"swatch": "30×60"}, "Tell what the swatch weighs, in one number."),
        ({"category": "9"}, "Select a valid choice."),
    ],
)
def test_what_is_told_wrongly_is_said_and_left_out(
    vera: Reader, address: str, told: dict[str, str], sentence: str
) -> None:
    text = vera.read(address, told)
    assert sentence in text
    assert "Hours 2–6 with weaving in. It rests on a usual pace" in text


def test_the_editor_tells_the_same_as_the_blanket(
    olga: Reader, vera: Reader, plan: Plan, address: str
) -> None:
    told = {"border": "8", "weights": "8 8.5", "minutes": "50", "length": "210"}
    drive = plan().blanket.drive_id
    editors = [f"/drives/{drive}/plan/layout/", address.replace("takes", "layout")]
    blanket = vera.read(address, told)
    ours = blanket[blanket.index("Size 30 cm") : blanket.index("Border, hours and yarn")].strip()
    for editor in editors:
        assert ours in olga.read(editor, FORM | told)


def test_a_press_keeps_what_was_told(olga: Reader, plan: Plan) -> None:
    address = f"/drives/{plan().blanket.drive_id}/plan/layout/"
    response = olga.get(address, FORM | {"weights": "8 8.5", "minutes": "", "press": "A2"})
    assert response.context["needs"]["weights"].value() == "8 8.5"
    assert "weights=8+8.5&amp;press=A1" in response.text
    assert "weights=8+8.5" in response["HX-Push-Url"]
    assert "It rests on 2 weighed squares." in words(response)


def test_the_board_leads_there(vera: Reader, plan: Plan) -> None:
    blanket = plan().blanket.pk
    assert f'href="/blankets/{blanket}/takes/"' in vera.get(f"/blankets/{blanket}/").text


def test_strangers_find_nothing(stan: Reader, address: str) -> None:
    assert stan.get(address).status_code == 404
