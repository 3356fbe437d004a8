"""Finishing, giving back, and acting for others."""

import pytest
from django.utils import timezone

from drives.models import Claim, Ending
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, Desk
from tests.pages.conftest import Reader, words


def on(desk: Desk, place: str, act: str) -> str:
    return f"/blankets/{desk.blanket.pk}/squares/{place}/{act}/"


@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    """A1 in Vera's hands."""
    desk = plan()
    desk.claim("A1", cast.vera, at=timezone.now())
    return desk


def test_finishing_is_thanked_and_says_what_became_ready(desk: Desk, vera: Reader) -> None:
    text = vera.press(on(desk, "A1", "finish"))
    assert "A1 is finished. Thank you! Ready now: A2 and B1." in text
    assert "What stands on it B1 ready A2 ready" in text
    assert desk.states() == {"A1": "finished"}


def test_a_coordinator_finishes_for_the_knitter_after_a_yes(
    cast: Cast, desk: Desk, cora: Reader
) -> None:
    text = cora.read(on(desk, "A1", "finish"))
    assert "A1 counts as finished from today, knitted by Vera. B1 and A2 can then be begun." in text
    assert desk.states() == {"A1": "taken"}
    cora.press(on(desk, "A1", "finish"))
    assert desk.square("A1").knitter == cast.vera


def test_giving_back_frees_the_square(desk: Desk, vera: Reader) -> None:
    assert "A1 is given back." in vera.press(on(desk, "A1", "give-back"))
    assert Claim.objects.get().ending == Ending.GIVEN_BACK


@pytest.mark.parametrize("act", ["finish", "give-back"])
def test_another_knitter_may_not_end_it(plan: Plan, cast: Cast, vera: Reader, act: str) -> None:
    desk = plan()
    desk.claim("A1", cast.paul)
    response = vera.post(on(desk, "A1", act))
    assert response.status_code == 409
    assert "A1 is in Paul’s hands; only they, or a coordinator for them" in words(response)
    assert desk.states() == {"A1": "taken"}


def test_claiming_for_somebody_on_paper(cast: Cast, cora: Reader, plan: Plan) -> None:
    desk = plan()
    text = cora.read(on(desk, "A1", "claim-for"))
    assert "A1 is in their hands for 14 days." in text
    assert "Choose somebody Olga Paul Vera" in text
    text = cora.press(on(desk, "A1", "claim-for"), {"member": cast.paul.pk})
    assert "A1 is with Paul until" in text
    assert Claim.objects.get().member == cast.paul


@pytest.mark.parametrize("member", ["", "0", "everybody"])
def test_claiming_for_nobody_is_said_at_the_field(cora: Reader, plan: Plan, member: str) -> None:
    desk = plan()
    assert cora.post(on(desk, "A1", "claim-for"), {"member": member}).status_code == 422
    assert desk.states() == {}


def test_claiming_for_somebody_what_is_not_ready_is_refused(
    cast: Cast, cora: Reader, plan: Plan
) -> None:
    response = cora.post(on(plan(), "B1", "claim-for"), {"member": cast.paul.pk})
    assert response.status_code == 409
    assert "B1 cannot be begun yet: it joins onto A1, not finished so far." in words(response)


def test_more_time_counts_from_the_due_date(desk: Desk, cora: Reader) -> None:
    claim = Claim.objects.get()
    due = timezone.localtime(claim.due_at)
    assert f"so far it is due on {due:%-d %B}" in cora.read(on(desk, "A1", "extend"))
    text = cora.press(on(desk, "A1", "extend"), {"days": 3})
    assert f"A1 is now due on {due + 3 * DAY:%-d %B}." in text


def test_releasing_says_that_nobody_is_told(desk: Desk, cora: Reader) -> None:
    assert "The site does not tell Vera: do it yourself." in cora.read(on(desk, "A1", "release"))
    assert "A1 is free again." in cora.press(on(desk, "A1", "release"))
    assert Claim.objects.get().ending == Ending.RELEASED


def test_ripping_back_says_what_has_to_wait_again(cast: Cast, cora: Reader, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    text = cora.read(on(desk, "A1", "rip-back"))
    assert "A1 is unfinished again, and can be claimed anew." in text
    assert "B1 and A2 cannot be begun until it is finished anew." in text
    assert "A1 is ripped back." in cora.press(on(desk, "A1", "rip-back"))
    assert desk.states() == {}


@pytest.mark.parametrize("method", ["get", "post"])
def test_what_carries_others_is_not_ripped_and_they_are_named(
    cast: Cast, cora: Reader, plan: Plan, method: str
) -> None:
    desk = plan()
    desk.knit("A1 B1", cast.vera)
    desk.claim("A2", cast.vera)
    response = getattr(cora, method)(on(desk, "A1", "rip-back"))
    assert response.status_code == 409
    assert "Rip back or give back first, in this order: A2, B1." in words(response)


@pytest.mark.parametrize("act", ["finish", "give-back", "extend", "release"])
def test_what_nobody_holds_cannot_be_ended(cora: Reader, plan: Plan, act: str) -> None:
    response = cora.get(on(plan(), "A1", act))
    assert response.status_code == 409
    assert "Nobody has A1 in hand; claim it first." in words(response)


@pytest.mark.parametrize("act", ["claim-for", "extend", "release", "rip-back"])
def test_volunteers_do_not_act_for_others(desk: Desk, vera: Reader, act: str) -> None:
    assert vera.get(on(desk, "A1", act)).status_code == 403
    assert vera.post(on(desk, "A1", act), {"days": 3}).status_code == 403
    assert desk.states() == {"A1": "taken"}
