"""The page of a circle."""

from tests.cast import Cast
from tests.conftest import Plan
from tests.pages.conftest import Reader


def test_an_empty_circle_tells_its_organiser_the_first_steps(cast: Cast, olga: Reader) -> None:
    text = olga.read(f"/circles/{cast.circle.pk}/")
    assert "Make a drive People" in text
    assert "First steps Ask the receiver" in text


def test_an_empty_circle_tells_others_to_wait(cast: Cast, vera: Reader) -> None:
    text = vera.read(f"/circles/{cast.circle.pk}/")
    assert "Nothing is planned here yet." in text
    assert "Make a drive" not in text


def test_drives_stand_with_their_blankets_progress(cast: Cast, vera: Reader, plan: Plan) -> None:
    desk = plan(recipient="The ward on the hill")
    desk.knit("A1", cast.vera)
    desk.claim("A2", cast.paul)
    text = vera.read(f"/circles/{cast.circle.pk}/")
    assert "Warm laps For: The ward on the hill. Blanket 1 of 4 squares finished" in text
    assert "1 can be begun now, 1 in hand" in text


def test_strangers_find_nothing(cast: Cast, stan: Reader) -> None:
    assert stan.get(f"/circles/{cast.circle.pk}/").status_code == 404
