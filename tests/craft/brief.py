"""Foundations written in one line a step, so that tests can be read against TRADE.md."""

from drives.craft.knitter import Hand
from drives.craft.layout.foundation import Step
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from drives.craft.places import Place


def brief(step: Step) -> str:
    """``cast-on 19 last``; ``pick-up 21 A1 right 1–20``."""
    parts = [step.do, str(step.stitches)]
    if step.onto and step.edge and step.ridges:
        parts += [str(step.onto), step.edge, "{}–{}".format(*step.ridges)]
    if step.how:
        parts.append(step.how)
    return " ".join(parts)


def foundation(layout: Layout, place: str, hand: Hand = Hand.RIGHT) -> list[str]:
    return [brief(step) for step in plan(layout).foundation(Place.parse(place), hand)]


def places(*names: str) -> list[Place]:
    return [Place.parse(name) for name in names]
