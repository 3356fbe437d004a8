"""Random tasks in whole days, for hypothesis."""

from hypothesis import strategies as st

from drives.craft.forecast.situation import Meetings
from drives.craft.rota.task import Begun, Hands, Job, Passing, Planned, Task


@st.composite
def tasks(draw: st.DrawFn, most: int = 6, people: int = 3) -> Task:
    """Few jobs, some of them on shared pieces, some barred to somebody.

    One perhaps in hand, one planned; and some circles take squares only when they meet.
    """
    count = draw(st.integers(1, most))
    knitters = draw(st.integers(1, people))
    travels = draw(st.booleans())
    pieces = draw(st.integers(1, 2)) if travels or draw(st.booleans()) else 0
    room = 1 if travels else draw(st.integers(1, 2))
    jobs = []
    for number in range(count):
        below = draw(st.sets(st.integers(0, number - 1), max_size=2)) if number else set()
        on = draw(st.sets(st.integers(0, pieces - 1), max_size=2)) if pieces else set()
        barred = draw(st.sets(st.integers(1, knitters - 1), max_size=1)) if knitters > 1 else set()
        jobs.append(
            Job(
                draw(st.sampled_from([1.0, 1.0, 2.0])),
                tuple(sorted(below)),
                tuple(sorted(on)),
                frozenset(barred),
            )
        )
    begun = []
    if draw(st.booleans()):
        begun = [Begun(0, 0, float(draw(st.integers(1, 4))))]
    busy = {each.job for each in begun}
    free = [number for number in range(count) if number not in busy]
    planned = {}
    if draw(st.booleans()) and free:
        job = draw(st.sampled_from(free))
        who, day = draw(st.integers(0, knitters - 1)), draw(st.integers(0, 8))
        planned = {job: Planned(who, float(day))}
    meets = None
    if draw(st.integers(0, 3)) == 3:
        meets = Meetings(draw(st.sampled_from([(2.0, 5.0), (0.0, 3.0)])))
    return Task(
        jobs,
        [draw(hands()) for _ in range(knitters)],
        [draw(st.sampled_from([None, *range(knitters)])) for _ in range(pieces)],
        room,
        Passing(float(draw(st.integers(0, 4)))) if travels else None,
        begun,
        planned=planned,
        meets=meets,
        limit=draw(st.integers(1, 2)),
    )


@st.composite
def hands(draw: st.DrawFn) -> Hands:
    moments = sorted(draw(st.sets(st.integers(0, 12), max_size=2)))
    away = zip(moments[::2], moments[1::2], strict=False)
    return Hands(
        float(draw(st.integers(1, 4))), tuple((float(first), float(last)) for first, last in away)
    )
