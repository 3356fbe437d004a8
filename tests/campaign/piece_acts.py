"""What people do with pieces and hand-overs, those that some client has read about."""

from .book import Fact
from .client import Turn
from .world import Seen

REMEMBERED = 60


def look_for_pieces(turn: Turn) -> None:
    blanket = turn.quilt().pk
    answer = turn.get(turn.anybody(), f"blankets/{blanket}/pieces/")
    if answer is None or answer.status != 200:
        return
    for piece in answer.json["results"]:
        turn.world.pieces.append(Seen(piece["id"], piece["name"], blanket))
        if piece["hand_over"]:
            turn.world.hand_overs.append(piece["hand_over"]["id"])
    del turn.world.pieces[:-REMEMBERED]
    del turn.world.hand_overs[:-REMEMBERED]


def _piece(turn: Turn) -> Seen | None:
    number, seen = turn.random.random(), turn.world.pieces[:]
    return seen[int(number * len(seen))] if seen else None


def _hand_over(turn: Turn) -> int | None:
    number, seen = turn.random.random(), turn.world.hand_overs[:]
    return seen[int(number * len(seen))] if seen else None


def arrange(turn: Turn) -> None:
    piece, me, receiver = _piece(turn), turn.coordinator(), turn.anybody()
    if piece is None:
        return
    body = {"receiver": receiver.member, "way": turn.random.choice(("hand", "post"))}
    answer = turn.call(me, f"pieces/{piece.pk}/hand-overs/", None, body)
    if answer is not None and answer.status == 201:
        turn.book.note(turn.book.done, Fact("hand-over", answer.json["id"]))
        turn.world.hand_overs.append(answer.json["id"])


def send(turn: Turn) -> None:
    _act(turn, "send", "sent", {"note": "parcel 12"})


def receive(turn: Turn) -> None:
    _act(turn, "receive", "received")


def cancel(turn: Turn) -> None:
    _act(turn, "cancel", "cancelled")


def _act(turn: Turn, act: str, verb: str, body: object = None) -> None:
    hand_over, me = _hand_over(turn), turn.coordinator()
    if hand_over is not None:
        fact = Fact(verb, hand_over)
        turn.call(me, f"hand-overs/{hand_over}/{act}/", fact, body, sure=lambda _: False)


def leave_line(turn: Turn) -> None:
    piece, me, member = _piece(turn), turn.coordinator(), turn.anybody()
    if piece is not None:
        # Who was not in line is told the same.
        turn.call(me, f"pieces/{piece.pk}/leave-line/", None, {"member": member.member})


def lose(turn: Turn) -> None:
    piece, me = _piece(turn), turn.coordinator()
    if piece is not None:
        fact = Fact("piece-lost", piece.blanket, piece.name)
        turn.call(
            me,
            f"pieces/{piece.pk}/lost/",
            fact,
            sure=lambda answer: bool(answer.json["squares"]) or None,
        )
