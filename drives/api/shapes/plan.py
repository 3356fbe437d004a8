"""A plan as JSON. Built by hand: a serializer would take seconds for 150 × 150 squares."""

from typing import Any

from rest_framework import serializers

from drives.craft.knitter import Hand
from drives.craft.layout.foundation import Do, Edge, How, Step, total
from drives.craft.layout.layout import Mitre
from drives.craft.layout.plan import Plan, SquareKind
from drives.craft.layout.rows import Row, Side, rows, worked
from drives.craft.places import Place
from drives.words.rows import instructions

Json = dict[str, Any]


def plan_json(plan: Plan, hand: Hand) -> Json:
    """The answer of ``plan/``, squares in the recommended order of work."""
    return {
        "squares": [square_json(plan, place, hand) for place in plan.places],
        "rounds": plan.rounds,
        "widest_round": plan.widest_round,
        "pieces": len(plan.pieces()),
    }


def square_json(plan: Plan, place: Place, hand: Hand) -> Json:
    """What the layout says about the square at ``place``, its foundation for ``hand``."""
    steps = plan.foundation(place, hand)
    return {
        "place": str(place),
        "column": place.column,
        "row": place.row,
        "size": plan.size[place],
        "kind": plan.kind(place).value,
        "stands_on": [str(support) for support in plan.stands_on[place]],
        "total": total(steps),
        "foundation": [step_json(step) for step in steps],
        "round": plan.round[place],
    }


def step_json(step: Step) -> Json:
    """One step with the members that its kind has."""
    facts: Json = {"do": step.do.value, "stitches": step.stitches}
    if step.how:
        facts["how"] = step.how.value
    if step.onto and step.edge and step.ridges:
        facts |= {"onto": str(step.onto), "edge": step.edge.value, "ridges": step.ridges}
    return facts


def rows_json(stitches: int, mitre: Mitre) -> Json:
    """Every row of a square whose side is ``stitches``, and the stitches worked in all."""
    every = rows(stitches, mitre)
    return {
        "rows": list(map(_row_json, every, instructions(every))),
        "worked": worked(stitches, mitre),
    }


def _row_json(row: Row, instruction: str) -> Json:
    return {
        "row": row.row,
        "side": row.side.value,
        "instruction": instruction,
        "stitches": row.stitches,
    }


class StepSerializer(serializers.Serializer[Any]):
    """One run of the foundation, in the order of work.

    ``how`` comes with a cast-on; ``onto``, ``edge`` and ``ridges`` come with a pick-up.
    """

    do = serializers.ChoiceField([do.value for do in Do])
    stitches = serializers.IntegerField(min_value=1)
    how = serializers.ChoiceField([how.value for how in How], required=False)
    onto = serializers.CharField(required=False, help_text="The neighbour's place.")
    edge = serializers.ChoiceField([edge.value for edge in Edge], required=False)
    ridges = serializers.ListField(
        child=serializers.IntegerField(min_value=1),
        min_length=2,
        max_length=2,
        required=False,
        help_text="First and last ridge of that edge, from its bottom (right) or its left (top).",
    )


class PlannedSquareSerializer(serializers.Serializer[Any]):
    """What the layout says about one square."""

    place = serializers.CharField()
    column = serializers.IntegerField(min_value=1)
    row = serializers.IntegerField(min_value=1)
    size = serializers.IntegerField(min_value=1)
    kind = serializers.ChoiceField([kind.value for kind in SquareKind])
    stands_on = serializers.ListField(child=serializers.CharField())
    total = serializers.IntegerField(help_text="Stitches on the needle after the foundation.")
    foundation = StepSerializer(many=True)
    round = serializers.IntegerField(min_value=1, help_text="With unlimited hands.")


class PlanSerializer(serializers.Serializer[Any]):
    """A layout thought through; squares in the recommended order of work."""

    squares = PlannedSquareSerializer(many=True)
    rounds = serializers.IntegerField()
    widest_round = serializers.IntegerField()
    pieces = serializers.IntegerField()


class RowSerializer(serializers.Serializer[Any]):
    """One row: what to do, and the stitches on the needle afterwards."""

    row = serializers.IntegerField(min_value=1)
    side = serializers.ChoiceField([side.value for side in Side])
    instruction = serializers.CharField()
    stitches = serializers.IntegerField(min_value=1)


class RowsSerializer(serializers.Serializer[Any]):
    """Every row of one square; ``worked`` counts the foundation and all rows."""

    rows = RowSerializer(many=True)
    worked = serializers.IntegerField()
