"""A large circle's blanket, made by rows: forty people's knitting takes too long by actions."""

from datetime import timedelta

from accounts.actions import add_paper_member
from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place
from drives.models import Blanket, Claim, Square
from tests.cast import Cast
from tests.desk import NOW, new_blanket


def crowded(cast: Cast) -> tuple[Blanket, dict[str, Place]]:
    """12 × 16 squares of 24 stitches in 16 panels; of the 48 that are ready forty have a square.

    Also who has which.
    """
    panels = frozenset(
        Seam(Place(column, row), Place(column + 1, row))
        for column in (3, 6, 9)
        for row in range(1, 17)
    ) | frozenset(
        Seam(Place(column, row), Place(column, row + 1))
        for column in range(1, 13)
        for row in (4, 8, 12)
    )
    blanket = new_blanket(cast.olga, Layout(12, 16, 24, seams=panels), for_babies=True)
    begun = [place for place, number in blanket.plan().round.items() if number <= 2]
    finish(blanket, cast, begun)  # three are ready in each of the 16 panels
    return blanket, hold(blanket, cast, 40)


def finish(blanket: Blanket, cast: Cast, places: list[Place]) -> None:
    """Vera has finished these."""
    done = set(places)
    plan = blanket.plan()
    squares = list(blanket.squares.all())
    for square in squares:
        if square.place in done:
            square.state, square.finished_at, square.knitter = "finished", NOW, cast.vera
        square.unmet = sum(other not in done for other in plan.stands_on[square.place])
    Square.objects.bulk_update(squares, ["state", "finished_at", "knitter", "unmet"])


def hold(blanket: Blanket, cast: Cast, people: int) -> dict[str, Place]:
    """As many squares in the hands of as many people, by their names."""
    held = {}
    ready = list(blanket.squares.ready().select_related("blanket__drive__circle"))[:people]
    for number, square in enumerate(ready, 1):
        name = f"Philippa Brightwater the {number}."
        member = add_paper_member(by=cast.olga, name=name, reach="", hand="right", now=NOW)
        Square.objects.filter(pk=square.pk).update(state="taken")
        due = NOW + timedelta(days=14)
        Claim.objects.create(square=square, member=member, taken_at=NOW, due_at=due)
        held[name] = square.place
    return held
