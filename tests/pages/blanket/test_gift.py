"""The gift record: what is told about a finished blanket, and who is named."""

from decimal import Decimal

from django.test import Client
from django.utils import timezone

from accounts.models import Event, Member
from drives.actions.drives.gifts import GiftDescription, describe_gift
from drives.craft.fibre.care import Care
from drives.craft.fibre.fibres import Fibre, Fibres
from drives.craft.fibre.treatments import Iron, Wash
from drives.models import Gift
from drives.pages.common.log.line import event_line
from tests.cast import Cast
from tests.desk import Desk, nothing_changes
from tests.pages.conftest import reader, words
from tests.store import new_yarn


def page(desk: Desk) -> str:
    return f"/blankets/{desk.blanket.pk}/gift/"


def test_what_a_coordinator_tells_is_kept_and_shown_again(desk: Desk, cast: Cast) -> None:
    told = {
        "width": "40.5",
        "height": "41",
        "fibres": "80% Acrylic and 20% nylon",
        "wash": "MACHINE_40_MILD",
        "iron": "NOT",
        "washed": "yes",
        "fringe": "no",
        "given_on": "2026-12-01",
    }
    cora = reader(cast.cora)
    assert "The gift record is kept." in cora.press(page(desk), told)
    gift = Gift.objects.get()
    assert (gift.width, gift.height) == (Decimal("40.5"), Decimal(41))
    assert gift.fibres == "80 % acrylic, 20 % polyamide"
    assert gift.care == {"wash": "MACHINE_40_MILD", "iron": "NOT"}
    assert (gift.washed, gift.fringe, gift.holes) == (True, False, None)
    text = cora.get(page(desk)).content.decode()
    for shown in (
        'value="40.5"',
        'value="80 % acrylic, 20 % polyamide"',
        '<option value="MACHINE_40_MILD" selected>',
        'value="2026-12-01"',
    ):
        assert shown in text
    event = Event.objects.get(verb="gift-described")
    assert event_line(event, {}) == "Cora wrote down what the receiver is told."


def test_inches_are_kept_as_centimetres(desk: Desk, cast: Cast) -> None:
    cast.circle.units = "in"
    cast.circle.save(update_fields=["units"])
    cora = reader(cast.cora)
    cora.post(page(desk), {"width": "16", "height": "20.5"})
    gift = Gift.objects.get()
    assert (gift.width, gift.height) == (Decimal("40.6"), Decimal("52.1"))  # × 2.54
    assert "Width in inches" in cora.read(page(desk))


def test_fibres_are_kept_as_codes_and_shown_in_the_readers_words(desk: Desk, cast: Cast) -> None:
    cast.circle.english = "american"
    cast.circle.save(update_fields=["english"])
    cora = reader(cast.cora)
    cora.post(page(desk), {"fibres": "80 % rayon, 20 % nylon"})
    assert Gift.objects.get().fibres == "80 % viscose, 20 % polyamide"
    assert 'value="80 % rayon, 20 % nylon"' in cora.get(page(desk)).content.decode()


def test_fibres_are_never_guessed_nor_half_told(desk: Desk, cast: Cast) -> None:
    cora = reader(cast.cora)
    with nothing_changes():
        for fibres in ("something soft", "80 % acrylic"):
            response = cora.post(page(desk), {"fibres": fibres})
            assert response.status_code == 422
            assert "write them in whole per cent" in words(response)
        assert cora.post(page(desk), {"width": "0"}).status_code == 422
    cora.post(page(desk), {"fibres": "unknown", "width": "40"})
    assert Gift.objects.get().fibres == ""


def test_the_same_again_changes_nothing(desk: Desk, cast: Cast) -> None:
    description = GiftDescription(width=Decimal(40), care=Care(wash=Wash.HAND, iron=Iron.NOT))

    def describe() -> None:
        describe_gift(
            blanket=desk.blanket, by=cast.cora, description=description, now=timezone.now()
        )

    describe()
    with nothing_changes():
        describe()
    event = Event.objects.get(verb="gift-described")
    assert event.facts == {"changed": ["width", "care"]}


def test_tells_who_will_be_named(desk: Desk, cast: Cast) -> None:
    cora = reader(cast.cora)
    assert "Nobody has finished a square of it yet." in cora.read(page(desk))
    desk.knit("A1", cast.vera)
    desk.knit("B1", cast.paul)
    assert "2 people have knitted it, and none has agreed" in cora.read(page(desk))
    assert "What you changed is kept." in reader(cast.vera).press(
        "/me/", {"name": "Vera", "hand": "right", "named_in": cast.circle.pk}
    )
    assert "Named on it will be: Vera." in cora.read(page(desk))
    paul = f"/circles/{cast.circle.pk}/people/{cast.paul.pk}/"
    cora.press(paul, {"name": "Paul", "hand": "right", "may_be_named": "on"})
    assert "Named on it will be: Paul, Vera." in cora.read(page(desk))
    cora.press(paul, {"name": "Paul", "hand": "right"})
    assert "Named on it will be: Vera." in cora.read(page(desk))


def test_nobody_is_named_who_has_not_said_so(desk: Desk, cast: Cast) -> None:
    assert not Member.objects.filter(may_be_named=True).exists()
    vera = reader(cast.vera)
    text = vera.get("/me/").content.decode()
    assert "Receivers may read my name" in text
    assert "checked" not in text.partition("Receivers may read my name")[2].partition("</form>")[0]
    vera.post("/me/", {"name": "Vera", "hand": "right", "named_in": cast.circle.pk})
    vera.post("/me/", {"name": "Vera", "hand": "right"})
    cast.vera.refresh_from_db()
    assert not cast.vera.may_be_named
    other = Member.objects.get(user=cast.stan).circle_id
    response = vera.post("/me/", {"name": "Vera", "hand": "right", "named_in": other})
    assert response.status_code == 422


def test_is_for_those_who_look_after_others(desk: Desk, cast: Cast) -> None:
    assert Client().get(page(desk)).status_code == 302
    assert reader(cast.vera).get(page(desk)).status_code == 403
    assert (
        reader(cast.cora)
        .read(f"/blankets/{desk.blanket.pk}/print/")
        .count("Tell what it should say")
    )


def test_begins_with_what_the_yarns_of_the_store_tell(desk: Desk, cast: Cast) -> None:
    soft: Fibres = {Fibre.ACRYLIC: 100}
    warm: Fibres = {Fibre.ACRYLIC: 50, Fibre.WOOL: 50}
    new_yarn(cast.olga, colour="teal", fibres=soft, care=Care(wash=Wash.MACHINE_60, iron=Iron.LOW))
    new_yarn(cast.olga, colour="rust", fibres=warm, care=Care(wash=Wash.MACHINE_40_MILD))
    desk.blanket.squares.update(colour="teal")
    cora = reader(cast.cora)
    desk.blanket.squares.filter(row=1).update(colour="rust")
    text = cora.get(page(desk)).content.decode()
    assert "filled in from the yarns of the store" in text
    assert 'value="75 % acrylic, 25 % wool"' in text  # half of all squares each
    assert '<option value="MACHINE_40_MILD" selected>' in text
    assert '<option value="LOW" selected>' not in text  # nobody has told it of the rust one
    assert not Gift.objects.exists()
    desk.blanket.squares.filter(row=2, column=2).update(colour="leftovers")
    text = cora.get(page(desk)).content.decode()
    assert "75 %" not in text
    assert '<option value="MACHINE_40_MILD" selected>' not in text
    assert "filled in from the yarns" not in text
