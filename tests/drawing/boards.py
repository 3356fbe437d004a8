"""Random blankets in the middle of being knitted."""

from dataclasses import dataclass

from hypothesis import settings
from hypothesis import strategies as st

from drives.craft.layout.plan import Plan, plan
from drives.craft.layout.states import State, state
from drives.craft.places import Place
from tests.craft.layouts import layouts, thoroughly

often = settings(thoroughly, max_examples=60)  # drawing and reading back is slow


@dataclass(frozen=True)
class Board:
    plan: Plan
    state_of: dict[Place, State]
    late: frozenset[Place]
    mine: frozenset[Place]


def board(plan: Plan, finished: int, taken: int) -> Board:
    """The first ``finished`` squares of the recommended order, and ``taken`` of those ready.

    Of the taken squares the first is late and the second is the reader's.
    """
    done = frozenset(plan.places[:finished])
    ready = [
        place
        for place in plan.places
        if state(plan, place, finished=done, taken=frozenset()) is State.READY
    ]
    held = frozenset(ready[:taken])
    return Board(
        plan=plan,
        state_of={place: state(plan, place, finished=done, taken=held) for place in plan.places},
        late=frozenset(ready[:taken][:1]),
        mine=frozenset(ready[:taken][1:2]),
    )


@st.composite
def boards(draw: st.DrawFn, most: int = 9) -> Board:
    thought = plan(draw(layouts(most)))
    finished = draw(st.integers(0, len(thought.places)))
    return board(thought, finished, draw(st.integers(0, 4)))
