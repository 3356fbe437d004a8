"""Pieces and hand-overs as the API tells and changes them."""

from typing import Any

import pytest
from pytest_django import DjangoAssertNumQueries

from drives.actions.pieces import hand_overs
from drives.models import Drive, HandOver, Mode, Piece, Turn

from .conftest import World

DOOR = "the blue door"


@pytest.fixture
def travelling(world: World) -> World:
    """Vera has the piece A1, and Olga asked for it."""
    Drive.objects.update(mode=Mode.TRAVELLING)
    world.finish("A1")
    assert world.olga.post(world.at("B1", "claim")).status_code == 409
    return world


def pieces(world: World) -> Any:
    return world.vera.get(f"blankets/{world.blanket.pk}/pieces/").json()


def arrange(world: World, **more: object) -> Any:
    body = {"receiver": world.cast.olga.pk, **more}
    return world.vera.post(f"pieces/{Piece.objects.get().pk}/hand-overs/", body)


def test_who_finishes_is_told_what_comes_next(travelling: World) -> None:
    travelling.vera.post(travelling.at("A2", "claim"))
    (piece,) = pieces(travelling)["results"]
    assert (piece["next"]["do"], piece["next"]["squares"]) == ("give", ["A2"])
    Drive.objects.update(passing="keep")
    finished = travelling.vera.post(travelling.at("A2", "finish")).json()
    assert (finished["next"]["do"], finished["next"]["waiting"]) == ("begin", 1)
    assert set(finished["next"]["squares"]) == set(finished["ready"]) | {"B1"}


def test_a_piece_tells_where_it_is_and_who_waits(travelling: World) -> None:
    cast, found = travelling.cast, pieces(travelling)
    assert found["count"] == 1
    (piece,) = found["results"]
    (turn,) = piece.pop("line")
    assert piece == {
        "id": Piece.objects.get().pk,
        "name": "A1",
        "holder": cast.vera.pk,
        "holder_name": "Vera",
        "squares": ["A1"],
        "hand_over": None,
        "next": {
            "do": "give",
            "squares": piece["next"]["squares"],
            "in_work": False,
            "receiver": cast.olga.pk,
            "receiver_name": "Olga",
            "waiting": 1,
            "day": None,
        },
        "may": ["hand-overs"],
    }
    assert set(piece["next"]["squares"]) == {"A2", "B1"}
    assert (turn["member"], turn["member_name"]) == (cast.olga.pk, "Olga")


@pytest.mark.parametrize(
    ("day", "status"), [("1899-12-31", 422), ("2026-11-20", 201), ("2200-01-01", 422)]
)
def test_the_day_of_a_hand_over_is_one_that_can_be_meant(
    travelling: World, day: str, status: int
) -> None:
    answer = arrange(travelling, day=day)

    assert answer.status_code == status
    if status == 422:
        assert "looks wrong" in answer.json()["detail"]


def test_a_piece_and_its_hand_over_tell_what_the_caller_may_do(travelling: World) -> None:
    def may(caller: Any) -> tuple[list[str], list[str]]:
        (piece,) = caller.get(f"blankets/{travelling.blanket.pk}/pieces/").json()["results"]
        return piece["may"], piece["hand_over"]["may"]

    at = f"hand-overs/{arrange(travelling).json()['id']}"
    assert may(travelling.vera) == (["hand-overs"], ["send", "cancel"])
    assert may(travelling.olga) == (
        ["hand-overs", "leave-line", "lost"],
        ["send", "receive", "cancel"],
    )
    assert travelling.vera.post(f"{at}/send/").json()["may"] == ["cancel"]
    assert travelling.olga.post(f"{at}/receive/").json()["may"] == []


def test_around_one_table_the_circle_has_the_piece(world: World) -> None:
    world.finish("A1", "B1")
    (piece,) = pieces(world)["results"]
    assert (piece["holder"], piece["holder_name"]) == (None, None)
    assert piece["squares"] == ["A1", "B1"]


def test_a_claim_on_a_piece_elsewhere_is_a_place_in_its_line(travelling: World) -> None:
    for _ in range(2):
        answer = travelling.olga.post(travelling.at("B1", "claim"), idempotency_key="mine")
        problem = answer.json()
        assert (answer.status_code, problem["type"]) == (409, "/api/v1/problems/piece-elsewhere")
        assert (problem["piece"], problem["holder"], problem["turn"]) == ("A1", "Vera", 1)
    assert Turn.objects.count() == 1


def test_from_hand_to_hand(travelling: World) -> None:
    made = arrange(travelling, way="post", day="2030-01-05")
    assert made.status_code == 201
    hand_over = made.json()
    assert (hand_over["giver_name"], hand_over["receiver_name"]) == ("Vera", "Olga")
    assert (hand_over["piece_name"], hand_over["day"]) == ("A1", "2030-01-05")
    at = f"hand-overs/{hand_over['id']}"
    sent = travelling.vera.post(f"{at}/send/", {"note": "parcel 12"}).json()
    assert sent["sent_at"]
    received = travelling.olga.post(f"{at}/receive/").json()
    assert received["received"]
    (piece,) = pieces(travelling)["results"]
    assert (piece["holder_name"], piece["line"], piece["hand_over"]) == ("Olga", [], None)
    assert travelling.olga.post(travelling.at("B1", "claim")).status_code == 201


def test_what_the_two_tell_each_other_is_in_no_answer(travelling: World) -> None:
    made = arrange(travelling).json()
    hand_over = HandOver.objects.get()
    hand_overs.tell_contact(hand_over=hand_over, by=travelling.cast.vera, contact=DOOR)
    sent = travelling.vera.post(f"hand-overs/{made['id']}/send/", {"note": DOOR})
    listed = travelling.olga.get(f"blankets/{travelling.blanket.pk}/pieces/")
    events = travelling.olga.get(f"blankets/{travelling.blanket.pk}/events/")
    hand_over.refresh_from_db()
    assert (hand_over.giver_contact, hand_over.note) == (DOOR, DOOR)
    for answer in (sent, listed, events):
        assert answer.status_code == 200
        assert DOOR not in answer.content.decode()


def test_a_hand_over_is_cancelled(travelling: World) -> None:
    made = arrange(travelling).json()
    cancelled = travelling.olga.post(f"hand-overs/{made['id']}/cancel/").json()
    assert (bool(cancelled["ended_at"]), cancelled["received"]) == (True, False)


@pytest.mark.parametrize("more", [{"way": "pigeon"}, {"day": "soon"}, {"receiver": "Olga"}])
def test_a_hand_over_has_its_limits(travelling: World, more: dict[str, object]) -> None:
    answer = arrange(travelling, **more)
    assert answer.status_code == 422
    assert [error["field"] for error in answer.json()["errors"]] == list(more)


def test_nobody_of_another_circle_receives(travelling: World) -> None:
    stranger = travelling.cast.stan.memberships.get()
    assert arrange(travelling, receiver=stranger.pk).status_code == 404


def test_leaving_the_line(travelling: World) -> None:
    leave = f"pieces/{Piece.objects.get().pk}/leave-line/"
    olga = {"member": travelling.cast.olga.pk}
    assert travelling.vera.post(leave, olga).status_code == 403
    answer = travelling.cora.post(leave, olga)
    assert (answer.status_code, answer.json()["line"]) == (200, [])
    assert travelling.olga.post(leave).json()["line"] == []


def test_a_loss_opens_its_squares_again(travelling: World) -> None:
    lost = f"pieces/{Piece.objects.get().pk}/lost/"
    assert travelling.vera.post(lost).status_code == 403
    assert travelling.cora.post(lost).json() == {"squares": ["A1"]}
    assert travelling.cora.post(lost).json() == {"squares": []}
    assert travelling.vera.get(travelling.at("A1")).json()["state"] == "ready"
    assert pieces(travelling)["count"] == 0


def test_pieces_cost_the_same_queries_however_many(
    travelling: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    travelling.vera.get("circles/")  # from here on the key counts as lately used
    for _size in range(2):
        # Key, blanket, member; squares, claims; pieces, lines, hand-overs.
        with django_assert_num_queries(8):
            pieces(travelling)
        arrange(travelling)
