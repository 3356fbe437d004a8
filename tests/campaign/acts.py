"""What people do with squares, and which of it how often; each act is chosen by chance alone."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from . import other_acts as other
from . import piece_acts as pieces
from .book import Fact
from .client import Turn

Act = Callable[[Turn], object]


def _square(turn: Turn) -> tuple[int, str, str]:
    quilt = turn.quilt()
    place = turn.random.choice(quilt.places)
    return quilt.pk, place, f"blankets/{quilt.pk}/squares/{place}"


def claim(turn: Turn) -> None:
    (blanket, place, path), me = _square(turn), turn.anybody()
    knitter = turn.anybody() if me.coordinates else me
    fact = Fact("claimed", blanket, f"{place} {knitter.member}")
    body = {"member": knitter.member}
    turn.call(me, f"{path}/claim/", fact, body, sure=lambda answer: answer.status == 201)


def finish(turn: Turn) -> None:
    blanket, place, path = _square(turn)
    turn.call(
        turn.coordinator(), f"{path}/finish/", Fact("finished", blanket, place),
        sure=lambda answer: bool(answer.json["ready"]),
    )  # fmt: skip


def give_back(turn: Turn) -> None:
    blanket, place, path = _square(turn)
    turn.call(turn.coordinator(), f"{path}/give-back/", Fact("given-back", blanket, place))


def release(turn: Turn) -> None:
    blanket, place, path = _square(turn)
    turn.call(turn.coordinator(), f"{path}/release/", Fact("released", blanket, place))


def extend(turn: Turn) -> None:
    blanket, place, path = _square(turn)
    days = {"days": turn.random.randint(1, 9)}
    turn.call(turn.coordinator(), f"{path}/extend/", Fact("extended", blanket, place), days)


def rip_back(turn: Turn) -> None:
    blanket, place, path = _square(turn)
    turn.call(turn.coordinator(), f"{path}/rip-back/", Fact("ripped-back", blanket, place))


def weigh(turn: Turn) -> None:
    blanket, place, path = _square(turn)
    grams = turn.random.randint(30, 300) / 10
    turn.call(
        turn.coordinator(), f"{path}/weigh/", Fact("weighed", blanket, f"{place} {grams:g}"),
        {"grams": grams}, sure=lambda answer: False,
    )  # fmt: skip


def colour(turn: Turn) -> None:
    _blanket, _place, path = _square(turn)
    number = turn.random.randint(1, 2)
    body = {"colour": f"own {number}", "value": f"#{number:06x}"}
    turn.call(turn.coordinator(), f"{path}/colour/", None, body, method="PUT")


def claim_by_page(turn: Turn) -> None:
    (blanket, place, path), me = _square(turn), turn.anybody()
    turn.send(me, f"/{path}/claim/", Fact("claimed", blanket, f"{place} {me.member}"), {})


def finish_by_page(turn: Turn) -> None:
    blanket, place, path = _square(turn)
    turn.send(turn.coordinator(), f"/{path}/finish/", Fact("finished", blanket, place), {})


def give_back_by_page(turn: Turn) -> None:
    blanket, place, path = _square(turn)
    fact = Fact("given-back", blanket, place)
    turn.send(turn.coordinator(), f"/{path}/give-back/", fact, {}, sure=True)


def rip_back_by_page(turn: Turn) -> None:
    blanket, place, path = _square(turn)
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
    blanket, _place, path = _square(turn)
    turn.get(turn.anybody(), turn.random.choice((f"{path}/", f"blankets/{blanket}/squares/")))


# How often each: of so many in all.
ACTS: Mapping[Act, int] = MappingProxyType(
    {
        claim: 200,
        finish: 150,
        give_back: 30,
        release: 15,
        extend: 25,
        rip_back: 150,
        weigh: 20,
        colour: 5,
        claim_by_page: 30,
        finish_by_page: 20,
        give_back_by_page: 8,
        rip_back_by_page: 20,
        count_rows: 15,
        look: 12,
        read: 30,
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
