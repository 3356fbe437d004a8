"""What is known of yarns: noted once, changed, and told apart by their dye lots."""

from typing import Any

import pytest

from drives.actions.yarn.store import change_yarn
from drives.craft.fibre.care import Care
from drives.craft.fibre.fibres import Fibre
from drives.craft.fibre.treatments import Tumble, Wash
from drives.craft.yarn.weighing import Swatch
from drives.models import Yarn
from tests.cast import Cast
from tests.desk import NOW, nothing_changes, refused
from tests.store import FACTS, Shelf, events, new_yarn

KNOWN: Any = FACTS | {
    "colour": "Rose",
    "value": "#cf6f83",
    "dye_lot": "4711",
    "category": 4,
    "fibres": {Fibre.ACRYLIC: 80, Fibre.WOOL: 20},
    "metres_per_100_grams": 200,
    "care": Care(wash=Wash.MACHINE_40, tumble=Tumble.NOT),
    "fast": True,
    "swatch": Swatch(30, 60, 12.5),
    "given_by": "A friend of the circle",
    "place": "Cora’s cupboard",
}


def test_a_yarn_is_kept_as_it_was_told(cast: Cast) -> None:
    made = new_yarn(cast.cora, 350, **KNOWN)

    yarn = Yarn.objects.get(pk=made.pk)
    assert (yarn.colour, yarn.dye_lot, yarn.grams) == ("Rose", "4711", 350)
    assert yarn.told_fibres == {Fibre.ACRYLIC: 80, Fibre.WOOL: 20}
    assert yarn.told_care == Care(wash=Wash.MACHINE_40, tumble=Tumble.NOT)
    assert yarn.swatch == Swatch(30, 60, 12.5)
    assert (yarn.category, yarn.metres_per_100_grams, yarn.fast) == (4, 200, True)
    assert (yarn.given_by, yarn.place) == ("A friend of the circle", "Cora’s cupboard")
    assert Shelf(yarn, cast.cora).lines() == [("received", 350, 0)]


def test_what_the_log_says_of_it_names_no_giver(cast: Cast) -> None:
    yarn = new_yarn(cast.cora, 350, **KNOWN)

    told = {"yarn": "Rose (4711)", "id": yarn.pk, "grams": 350}
    assert events(yarn) == [("yarn-added", told)]


def test_what_nobody_knows_stays_unknown(cast: Cast) -> None:
    yarn = Yarn.objects.get(pk=new_yarn(cast.cora, 0).pk)

    assert (yarn.told_fibres, yarn.told_care, yarn.swatch) == (None, Care(), None)
    assert (yarn.category, yarn.metres_per_100_grams, yarn.fast) == (None, None, None)
    assert not yarn.moves.exists()  # nothing came in with it


def test_a_dye_lot_is_a_yarn_of_its_own_and_the_same_is_refused(cast: Cast) -> None:
    new_yarn(cast.cora)
    first = new_yarn(cast.cora, dye_lot="12a")

    sentence = "“Navy (12a)” is in the store already; note there what more has come of it."
    with refused("yarn-is-there", sentence, yarn=first.pk):
        new_yarn(cast.olga, colour="NAVY", dye_lot="12A")
    assert Yarn.objects.count() == 2


def test_a_colour_has_one_spelling(cast: Cast) -> None:
    """Blankets find their yarn by it."""
    new_yarn(cast.cora)

    assert new_yarn(cast.cora, colour="navy", dye_lot="12").colour == "Navy"


def test_circles_know_nothing_of_each_others_yarn(cast: Cast) -> None:
    new_yarn(cast.cora)

    assert new_yarn(cast.stan.memberships.get(), colour="navy").colour == "navy"


def test_changes_are_kept_and_the_log_says_of_what(cast: Cast) -> None:
    yarn = new_yarn(cast.cora, 350, **KNOWN)
    wanted: Any = KNOWN | {"colour": "rose", "fast": None, "swatch": None, "fibres": None}

    changed = change_yarn(yarn=yarn, by=cast.olga, now=NOW, **wanted)

    kept = Yarn.objects.get(pk=yarn.pk)
    assert (kept.colour, kept.fast, kept.swatch, kept.told_fibres) == ("rose", None, None, None)
    assert (kept.grams, kept.told_care) == (350, yarn.told_care)
    verb, facts = events(yarn)[-1]
    assert (verb, facts["yarn"]) == ("yarn-changed", "rose (4711)")
    swatch = {"swatch_stitches", "swatch_rows", "swatch_grams"}
    assert {*facts["changed"]} == {"colour", "fast", "fibres"} | swatch
    with nothing_changes():
        change_yarn(yarn=changed, by=cast.olga, now=NOW, **wanted)


def test_no_change_makes_two_yarns_one(cast: Cast) -> None:
    navy, rose = new_yarn(cast.cora), new_yarn(cast.cora, **KNOWN)

    sentence = "“Navy” is in the store already; note there what more has come of it."
    with refused("yarn-is-there", sentence, yarn=navy.pk):
        change_yarn(yarn=rose, by=cast.cora, now=NOW, **FACTS)


@pytest.mark.parametrize(
    ("value", "dark"),
    [("#26375c", True), ("#6b2530", True), ("#cf6f83", False), ("#fbfaf6", False)],
)
def test_which_colours_may_bleed_is_decided_by_their_lightness(value: str, dark: bool) -> None:
    """Navy and maroon; rose and white."""
    assert Yarn(colour="It", value=value).facts.dark is dark
