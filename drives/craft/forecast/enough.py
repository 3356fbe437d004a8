"""How many knitters are enough for a wanted day."""

from collections.abc import Callable
from dataclasses import replace
from random import Random

from .situation import Situation


def with_knitters(situation: Situation, count: int, seed: int) -> Situation:
    """The same with ``count`` knitters, or with as many more as have a square in hand.

    Who comes is as the one in the middle. Who goes has nothing in hand, and is chosen by chance:
    the same ``seed`` lets the same people go, one after the other.
    """
    people = range(len(situation.knitters))
    busy = {square.knitter for square in situation.in_hand}
    chance = Random(f"{seed}-people")  # noqa: S311 - chance, not secrecy
    order = {who: chance.random() for who in people}
    stay = sorted(people, key=lambda who: (who not in busy, order[who]))
    return with_people(situation, sorted(stay[: max(count, len(busy))]), count)


def with_people(situation: Situation, stay: list[int], count: int) -> Situation:
    """Only those who ``stay``, by index and in this order, then others until they are ``count``.

    Everybody with a square in hand must stay.
    """
    number = {who: index for index, who in enumerate(stay)}
    fewer = replace(
        situation,
        knitters=[situation.knitters[who] for who in stay],
        in_hand=[square._replace(knitter=number[square.knitter]) for square in situation.in_hand],
        holders={place: number[who] for place, who in situation.holders.items() if who in number},
        others=[work.held_by(number) for work in situation.others],
    )
    middle = situation.with_volunteer().knitters[-1]
    others = count - len(stay)
    return replace(fewer, knitters=[*fewer.knitters, *[middle] * others])


def suffice(kept: Callable[[int], float], share: float, least: int, most: int) -> int | None:
    """The fewest knitters with whom the day is kept with ``share``; None where ``most`` are not.

    ``kept``: the probability by the number of knitters. By steps that double, then by bisection,
    as if one more never made it worse (hardly ever does it: Graham, Bounds on Multiprocessing
    Timing Anomalies, 1969). Small numbers first: where more hands hardly help, chance alone would
    decide between few and many.
    """
    if kept(most) < share:
        return None
    step = 1
    while least + step <= most:
        tried = least + step - 1
        if kept(tried) >= share:
            most = tried
            break
        least, step = tried + 1, 2 * step
    while least < most:
        middle = (least + most) // 2
        if kept(middle) >= share:
            most = middle
        else:
            least = middle + 1
    return most
