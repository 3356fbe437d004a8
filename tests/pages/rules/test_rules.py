"""The receiver's rules: written down, confirmed, shown where something goes against them."""

from datetime import date, timedelta
from typing import Any

import pytest
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from accounts.models import Circle
from drives.actions.colours.by_hand import colour_squares
from drives.actions.colours.plans import set_palette
from drives.actions.drives.rules import note_rules, overrule_conflict
from drives.craft.colours.wish import Pattern
from drives.craft.fibre.fibres import Fibre
from drives.craft.places import Place
from drives.craft.receivers.rules import Rules
from drives.models import Drive, Gift, Overruling, Receiver
from drives.readings.checks import drive_checks
from drives.readings.colour_plans import ColoursWanted, PaletteColour
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import Desk
from tests.pages.conftest import Reader, words
from tests.store import new_yarn

NOT_CONFIRMED = "The rules of the receiver are not confirmed yet: ask them before anybody knits."
SENT: dict[str, Any] = {
    "shorter_from": "60",
    "longer_to": "100.5",
    "refused": ["wool", "mohair"],
    "machine_wash": "yes",
    "temperature": "40",
    "fringe": "no",
    "country": "GB",
}
CONFIRMED = {"told_by": "The matron", "told_on": "2026-11-01"}


@pytest.fixture
def address(desk: Desk) -> str:
    return f"/drives/{desk.blanket.drive_id}/rules/"


def ask(desk: Desk, cast: Cast, rules: Rules, **more: Any) -> None:
    drive = desk.blanket.drive
    note_rules(drive=drive, by=cast.olga, now=timezone.now(), rules=rules, **more)


def refuse_moss(desk: Desk, cast: Cast) -> None:
    """A1 is to be knitted with 20 % of the wool that the receiver refuses."""
    new_yarn(cast.cora, colour="moss", fibres={Fibre.ACRYLIC: 80, Fibre.WOOL: 20})
    colours = {Place.parse("A1"): "moss"}
    colour_squares(blanket=desk.blanket, by=cast.cora, colours=colours, now=timezone.now())
    ask(desk, cast, Rules(refused=frozenset({Fibre.WOOL})))


WOOL = "“moss” has 20 % wool; the receiver refuses it. Take a yarn without wool"


def test_an_organiser_writes_down_what_everybody_reads(
    olga: Reader, vera: Reader, address: str
) -> None:
    assert "No rule is written down yet; an organiser does that." in vera.read(address)
    assert "Ask the receiver what they can take" in olga.read(address)
    assert "The receiver’s rules are written down." in olga.press(address, SENT | CONFIRMED)
    receiver = Receiver.objects.get()
    assert receiver.rules == Rules(
        shorter_from=60,
        longer_to=100.5,
        refused=frozenset({Fibre.WOOL, Fibre.MOHAIR}),
        machine_wash=True,
        temperature=40,
        fringe=False,
    )
    assert (receiver.told_by, receiver.told_on) == ("The matron", date(2026, 11, 1))
    text = vera.read(address)
    for line in (
        "As The matron told them on 1 November 2026. Written down by Olga.",
        "Shorter side, at least 60 cm Longer side, at most 100.5 cm Fibres refused mohair, wool",
        "Do they wash it in the machine? yes Washed at 40 °C May it have a fringe? no",
        "Olga wrote the rules down as The matron told them on 1 November 2026.",
    ):
        assert line in text
    for of_form in ("Write them down", "holes", "typical"):
        assert of_form not in text


def test_the_form_comes_back_as_it_was_sent(olga: Reader, address: str) -> None:
    olga.post(address, SENT | CONFIRMED)
    before = Receiver.objects.values().get()
    form = olga.get(address).context["form"]
    again = {name: form[name].value() for name in form.fields if form[name].value() is not None}
    olga.post(address, again)
    assert Receiver.objects.values().get() == before


def test_sizes_are_told_in_the_circles_units(cast: Cast, olga: Reader, address: str) -> None:
    Circle.objects.filter(pk=cast.circle.pk).update(units="in")
    olga.post(address, {"shorter_from": "36"})
    assert Receiver.objects.get().rules.shorter_from == pytest.approx(91.44)
    assert "Shorter side, at least 36 in" in olga.read(address)
    assert olga.get(address).context["form"]["shorter_from"].value() == 36


def test_begin_with_what_is_typical_and_see_who_says_so(
    olga: Reader, vera: Reader, address: str
) -> None:
    text = olga.read(address, {"typical": "neonatal-unit"})
    assert "Filled in with what is typical for a neonatal unit." in text
    assert "Typical, to be confirmed. Source: muoxford.org.uk/knitting." in text
    form = olga.get(address, {"typical": "neonatal-unit"}).context["form"]
    assert form["shorter_from"].value() == 61  # 24 inches are 60.96 cm
    sent = {"kind": "neonatal-unit", "shorter_from": "61", "fringe": "no", "holes": "yes"}
    assert "Written down, to be confirmed: ask the receiver." in olga.press(address, sent)
    text = vera.read(address)
    assert NOT_CONFIRMED in text
    assert "They begin with what is typical for a neonatal unit." in text
    assert "at least 61 cm typical, to be confirmed; source: muoxford.org.uk/knitting" in text
    assert "May it have a fringe? no typical, to be confirmed; source: projectlinusfl.org" in text
    assert "May it have holes? yes What" in text  # the organiser's own word, not the typical one
    assert "wrote rules down that nobody has confirmed yet" in text


def test_of_no_known_kind_nothing_is_typical(olga: Reader, address: str) -> None:
    assert "Filled in" not in olga.read(address, {"typical": "a-castle"})


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        (
            {"longer_from": "110"},
            "The smallest size of the longer side is larger than its largest.",
        ),
        ({"wanted": ["wool"]}, "The fibre “wool” is both wanted and refused."),
        (
            {"machine_wash": "no"},
            "A temperature or a cycle is told for a machine wash that is not asked.",
        ),
        ({"told_by": "The matron"}, "Tell both who told them and when, or neither."),
        ({"told_on": "2026-11-01"}, "Tell both who told them and when, or neither."),
        ({"told_by": "The matron", "told_on": "2099-01-01"}, "This day is still to come."),
        ({"shorter_from": "-3"}, "greater than or equal to 1"),
        ({"shorter_from": "nan"}, "Enter a number."),
        ({"temperature": "400"}, "less than or equal to 95"),
        ({"refused": ["straw"]}, "Select a valid choice."),
        ({"country": "XX"}, "Select a valid choice."),
        ({"kind": "a-castle"}, "Something here needs another look."),
    ],
)
def test_what_cannot_be_is_said_and_nothing_is_written(
    olga: Reader, address: str, wrong: dict[str, Any], sentence: str
) -> None:
    response = olga.post(address, SENT | wrong)
    assert response.status_code == 422
    assert sentence in words(response)
    assert not Receiver.objects.exists()


def test_tomorrow_is_no_day_on_which_somebody_told(olga: Reader, address: str) -> None:
    tomorrow = timezone.localdate() + timedelta(days=1)
    sent = SENT | {"told_by": "The matron", "told_on": tomorrow.isoformat()}
    assert olga.post(address, sent).status_code == 422


def test_others_only_read(cora: Reader, vera: Reader, stan: Reader, address: str) -> None:
    for person, status in ((cora, 403), (vera, 403), (stan, 404)):
        for path in (address, f"{address}overrule/", f"{address}uphold/"):
            assert person.post(path, SENT).status_code == status
    assert stan.get(address).status_code == 404
    assert not Receiver.objects.exists()


def test_a_drive_without_confirmed_rules_says_so_everywhere(
    cast: Cast, olga: Reader, desk: Desk
) -> None:
    yarn = new_yarn(cast.cora)
    drive, blanket = desk.blanket.drive_id, desk.blanket.pk
    pages = [
        f"/drives/{drive}/",
        f"/drives/{drive}/rules/",
        f"/drives/{drive}/plan/",
        f"/drives/{drive}/plan/layout/",
        f"/blankets/{blanket}/",
        f"/blankets/{blanket}/layout/",
        f"/blankets/{blanket}/squares/A1/",
        f"/circles/{cast.circle.pk}/yarn/",
        f"/yarn/{yarn.pk}/",
    ]
    for page in pages:
        assert NOT_CONFIRMED in olga.read(page), page
    ask(desk, cast, Rules(), told_by="The matron", told_on=date(2026, 11, 1))
    for page in pages:
        assert NOT_CONFIRMED not in olga.read(page), page


def test_a_square_in_hand_is_not_nagged_about(cast: Cast, vera: Reader, desk: Desk) -> None:
    desk.claim("A1", cast.vera, at=timezone.now())
    assert NOT_CONFIRMED not in vera.read(f"/blankets/{desk.blanket.pk}/squares/A1/")


def test_a_refused_yarn_is_seen_before_anybody_takes_its_square(
    cast: Cast, vera: Reader, olga: Reader, desk: Desk
) -> None:
    refuse_moss(desk, cast)
    blanket = desk.blanket.pk
    for page in (f"/drives/{desk.blanket.drive_id}/", f"/blankets/{blanket}/"):
        assert WOOL in vera.read(page)
        assert "Overrule it" not in vera.read(page)
        assert "Overrule it with a reason" in olga.read(page)
    assert f"{NOT_CONFIRMED} The rules" in vera.read("/")
    assert WOOL in vera.read("/")
    assert WOOL in vera.read(f"/blankets/{blanket}/squares/A1/")
    assert WOOL not in vera.read(f"/blankets/{blanket}/squares/A2/")
    assert "the receiver refuses it" in vera.read(f"/circles/{cast.circle.pk}/yarn/")
    desk.knit("A1", cast.vera, at=timezone.now())
    assert WOOL not in vera.read(f"/blankets/{blanket}/squares/A1/")


def test_a_refused_yarn_is_seen_where_colours_are_planned_and_chosen(
    cast: Cast, cora: Reader, vera: Reader, desk: Desk
) -> None:
    new_yarn(cast.cora, colour="heather", fibres={Fibre.WOOL: 100})
    refuse_moss(desk, cast)
    page = f"/blankets/{desk.blanket.pk}/colours/"
    for person in (cora, vera):
        assert WOOL in person.read(page)
    assert "What the receiver would refuse of these “heather” has 100 % wool" in cora.read(page)
    moss = ColoursWanted((PaletteColour("moss", "#6f7d3c"),), Pattern.BANDS, apart=False, margin=0)
    set_palette(blanket=desk.blanket, by=cast.cora, wanted=moss, now=timezone.now())
    desk.claim("A1", cast.vera, at=timezone.now())
    text = vera.read(f"/blankets/{desk.blanket.pk}/squares/A1/colour/")
    assert WOOL in text
    assert "What the receiver asks of it: Fibres refused wool" in text


def test_the_planner_says_what_the_receiver_would_not_take(
    cast: Cast, olga: Reader, desk: Desk
) -> None:
    ask(desk, cast, Rules(longer_to=100, holes=False))
    drive = desk.blanket.drive_id
    size = {"width": 90, "height": 120, "units": "cm", "gauge": 20}
    told = "its longer side; the receiver takes 100 cm at most"
    text = olga.read(f"/drives/{drive}/plan/", size)
    assert text.count(told) == len(olga.get(f"/drives/{drive}/plan/", size).context["choices"])
    assert told not in olga.read(f"/drives/{drive}/plan/", size | {"height": 90})
    grid = {"columns": 3, "rows": 3, "stitches": 20, "mitre": "paired", "brush": 1, "gauge": 20}
    editor = f"/drives/{drive}/plan/layout/"
    assert "hole at B2" in olga.read(editor, grid | {"missing": "B2"})
    assert "a hole at" not in olga.read(editor, grid | {"missing": "A1"})
    assert told in olga.read(editor, grid | {"rows": 11})
    assert told not in olga.read(editor, grid | {"rows": 10})
    assert told in olga.read(editor, grid | {"rows": 10, "border": 4})


def test_a_plan_against_the_rules_is_made_and_told(cast: Cast, olga: Reader, desk: Desk) -> None:
    ask(desk, cast, Rules(shorter_from=30, longer_from=30))
    short = "The blanket would be 20 cm on its shorter side; the receiver takes 30 cm or more"
    grid = {"stitches": 20, "mitre": "paired", "brush": 1, "do": "save"}
    new = grid | {"columns": 2, "rows": 3, "name": "Dunes", "gauge": 20}
    text = olga.press(f"/drives/{desk.blanket.drive_id}/plan/layout/", new)
    assert "Dunes is planned." in text
    assert short in text
    assert short in olga.read(f"/blankets/{desk.blanket.pk}/takes/")
    changed = grid | {"columns": 3, "rows": 3}
    text = olga.press(f"/blankets/{desk.blanket.pk}/layout/", changed)
    assert "The layout is changed." in text
    assert "the receiver takes" not in text


def test_the_finished_blanket_is_held_against_them(cast: Cast, cora: Reader, desk: Desk) -> None:
    ask(desk, cast, Rules(smoke_free=True))
    gift = f"/blankets/{desk.blanket.pk}/gift/"
    assert "smoke; nobody has said so" not in cora.read(gift)
    Gift.objects.create(blanket=desk.blanket)
    assert "come from homes without smoke; nobody has said so of this one" in cora.read(gift)


def test_a_conflict_is_overruled_with_a_reason_and_upheld(
    cast: Cast, olga: Reader, vera: Reader, desk: Desk, address: str
) -> None:
    refuse_moss(desk, cast)
    (check,) = drive_checks(Drive.objects.get(pk=desk.blanket.drive_id))
    sent = dict(zip(("subject", "code", "about"), check.key, strict=True))
    response = olga.post(f"{address}overrule/", sent | {"reason": ""})
    assert response.status_code == 422
    assert "Why it does not count: This field is required." in words(response)
    text = olga.press(f"{address}overrule/", sent | {"reason": "The matron said yes."})
    quiet = "the receiver refuses it. Overruled by Olga on"
    assert quiet in text
    assert "Olga overruled: ““moss” has 20 % wool; the receiver refuses it.” (moss)." in text
    for page in (address, f"/drives/{desk.blanket.drive_id}/", f"/blankets/{desk.blanket.pk}/"):
        text = vera.read(page)
        assert quiet in text
        assert "“The matron said yes.”" in text
        assert "Take a yarn without wool" not in text.replace("Olga overruled", "")
    assert "Let it count again" not in vera.read(address)
    text = olga.press(f"{address}uphold/", sent)
    assert "Take a yarn without wool" in text
    assert "Olga let it count again" in text
    assert not Overruling.objects.exists()


@pytest.mark.parametrize("call", ["overrule", "uphold"])
def test_what_is_mended_by_now_is_neither_overruled_nor_upheld(
    olga: Reader, desk: Desk, address: str, call: str
) -> None:
    sent = {"subject": f"plan {desk.blanket.pk}", "code": "too-small", "about": "shorter"}
    text = olga.press(f"{address}{call}/", sent | {"reason": "They take it."})
    assert "This does not go against the rules any more." in text
    assert not Overruling.objects.exists()


def test_what_is_minded_is_that_of_the_receivers_country(
    cast: Cast, vera: Reader, desk: Desk, address: str
) -> None:
    ask(desk, cast, Rules(for_babies=True, for_wheelchairs=True), country="US")
    square = f"/blankets/{desk.blanket.pk}/squares/A1/"
    for page in (address, f"/drives/{desk.blanket.drive_id}/", square):
        text = vera.read(page)
        assert "The American Academy of Pediatrics advises against blankets" in text
        assert "Excess cloth can cause sores" in text
    ask(desk, cast, Rules(), country="US")
    assert "Academy" not in vera.read(square)


@pytest.mark.parametrize("blankets", [1, 3])
def test_it_reads_little_however_many_blankets_there_are(
    cast: Cast,
    olga: Reader,
    plan: Plan,
    desk: Desk,
    address: str,
    django_assert_num_queries: DjangoAssertNumQueries,
    blankets: int,
) -> None:
    refuse_moss(desk, cast)
    drive = desk.blanket.drive
    for _more in range(blankets - 1):
        plan(drive=drive).blanket.plan()
    (check,) = drive_checks(Drive.objects.get(pk=drive.pk))
    overrule_conflict(drive=drive, by=cast.olga, check=check, reason="Yes.", now=timezone.now())
    desk.blanket.plan()
    # Session, user, drive with its receiver, member; blankets, gifts, yarns, overrulings; the log.
    with django_assert_num_queries(9):
        olga.read(address)
