"""What people do with squares, and which of it how often; each act is chosen by chance alone."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from . import other_acts as other
from . import piece_acts as pieces
from .book import Fact
from .client import Answer, Turn

Act = Callable[[Turn], object]


SIGHTED = 0.8  # of the choices go by what somebody has seen last; the others are blind


def _square(turn: Turn, state: str = "") -> tuple[int, str, str]:
    """A square, mostly one that was in this ``state`` when it was last seen."""
    quilt, number, chance = turn.quilt(), turn.random.random(), turn.random.random()
    seen = turn.world.states
    fitting = [place for place in quilt.places if seen.get((quilt.pk, place)) == state]
    among = fitting if fitting and chance < SIGHTED else quilt.places
    place = among[int(number * len(among))]
    return quilt.pk, place, f"blankets/{quilt.pk}/squares/{place}"


def _see(turn: Turn, blanket: int, answer: Answer | None) -> None:
    """Remember what an answer tells of squares: a claim, a square, or all of a blanket."""
    if answer is None or answer.status >= 400:
        return
    told = answer.json
    for square in told.get("results", [told]):
        state = square.get("state", "ready" if square.get("ended_at") else "taken")
        turn.world.states[blanket, square["place"]] = state
    turn.world.states.update({(blanket, place): "ready" for place in told.get("ready", ())})


def claim(turn: Turn) -> None:
    (blanket, place, path), me = _square(turn, "ready"), turn.anybody()
    knitter = turn.anybody() if me.coordinates else me
    fact = Fact("claimed", blanket, f"{place} {knitter.member}")
    body = {"member": knitter.member}
    answer = turn.call(me, f"{path}/claim/", fact, body, sure=lambda answer: answer.status == 201)
    _see(turn, blanket, answer)


def finish(turn: Turn) -> None:
    blanket, place, path = _square(turn, "taken")
    answer = turn.call(
        turn.coordinator(), f"{path}/finish/", Fact("finished", blanket, place),
        sure=lambda answer: bool(answer.json["ready"]),
    )  # fmt: skip
    _see(turn, blanket, answer)


def give_back(turn: Turn) -> None:
    blanket, place, path = _square(turn, "taken")
    answer = turn.call(turn.coordinator(), f"{path}/give-back/", Fact("given-back", blanket, place))
    _see(turn, blanket, answer)


def release(turn: Turn) -> None:
    blanket, place, path = _square(turn, "taken")
    answer = turn.call(turn.coordinator(), f"{path}/release/", Fact("released", blanket, place))
    _see(turn, blanket, answer)


def extend(turn: Turn) -> None:
    blanket, place, path = _square(turn, "taken")
    days = {"days": turn.random.randint(1, 9)}
    answer = turn.call(
        turn.coordinator(), f"{path}/extend/", Fact("extended", blanket, place), days
    )
    _see(turn, blanket, answer)


def rip_back(turn: Turn) -> None:
    blanket, place, path = _square(turn, "finished")
    answer = turn.call(turn.coordinator(), f"{path}/rip-back/", Fact("ripped-back", blanket, place))
    _see(turn, blanket, answer)


def weigh(turn: Turn) -> None:
    blanket, place, path = _square(turn, "finished")
    grams = turn.random.randint(30, 300) / 10
    answer = turn.call(
        turn.coordinator(), f"{path}/weigh/", Fact("weighed", blanket, f"{place} {grams:g}"),
        {"grams": grams}, sure=lambda answer: False,
    )  # fmt: skip
    _see(turn, blanket, answer)


def colour(turn: Turn) -> None:
    _blanket, _place, path = _square(turn)
    number = turn.random.randint(1, 2)
    body = {"colour": f"own {number}", "value": f"#{number:06x}"}
    turn.call(turn.coordinator(), f"{path}/colour/", None, body, method="PUT")


def claim_by_page(turn: Turn) -> None:
    (blanket, place, path), me = _square(turn, "ready"), turn.anybody()
    turn.send(me, f"/{path}/claim/", Fact("claimed", blanket, f"{place} {me.member}"), {})


def finish_by_page(turn: Turn) -> None:
    blanket, place, path = _square(turn, "taken")
    turn.send(turn.coordinator(), f"/{path}/finish/", Fact("finished", blanket, place), {})


def give_back_by_page(turn: Turn) -> None:
    blanket, place, path = _square(turn, "taken")
    fact = Fact("given-back", blanket, place)
    turn.send(turn.coordinator(), f"/{path}/give-back/", fact, {}, sure=True)


def rip_back_by_page(turn: Turn) -> None:
    blanket, place, path = _square(turn, "finished")
    fact = Fact("ripped-back", blanket, place)
    turn.send(turn.coordinator(), f"/{path}/rip-back/", fact, {}, sure=True)


def count_rows(turn: Turn) -> None:
    _blanket, _place, path = _square(turn)
    rows = {"rows_done": turn.random.randint(0, 24)}
    turn.send(turn.anybody(), f"/{path}/rows/", None, rows)


def look(turn: Turn) -> None:
    blanket, _place, path = _square(turn)
    pages = ("/", f"/blankets/{blanket}/", f"/{path}/", f"/blankets/{blanket}/log/")
    turn.look(turn.anybody(), turn.random.choice(pages))


def read(turn: Turn) -> None:
    """The squares of a blanket, or now and then all about one of them."""
    blanket, _place, path = _square(turn)
    if turn.random.random() < 0.8:
        _see(turn, blanket, turn.get(turn.anybody(), f"blankets/{blanket}/squares/"))
    else:
        turn.get(turn.anybody(), f"{path}/")


# How often each: of so many in all.
ACTS: Mapping[Act, int] = MappingProxyType(
    {
        claim: 200,
        finish: 150,
        give_back: 30,
        release: 15,
        extend: 25,
        rip_back: 90,
        weigh: 20,
        colour: 5,
        claim_by_page: 30,
        finish_by_page: 20,
        give_back_by_page: 8,
        rip_back_by_page: 20,
        count_rows: 15,
        look: 12,
        read: 50,
        pieces.look_for_pieces: 15,
        pieces.arrange: 25,
        pieces.send: 15,
        pieces.receive: 20,
        pieces.cancel: 8,
        pieces.leave_line: 8,
        pieces.lose: 8,
        other.move_yarn: 25,
        other.draw_layout: 3,
        other.add_on_paper: 2,
        other.take_out: 1,
        other.invite: 2,
        other.join: 2,
        other.choose_letters: 3,
        other.print_sheet: 2,
    }
)
