"""The squares of a blanket."""

from collections.abc import Iterable
from typing import Any, TypedDict

from rest_framework import serializers

from accounts.models import Member
from drives.actions.rights import square_rights
from drives.actions.squares.weights import HEAVIEST, LIGHTEST
from drives.craft.knitter import Hand
from drives.craft.layout.plan import Plan
from drives.craft.layout.states import State
from drives.craft.places import Place
from drives.models import Claim, Square
from drives.readings.board import Board, SquareLot
from drives.words.rows import glossary
from drives.words.steps import begin_line, foundation_lines, marker_line

from .bodies import Body
from .claims import ClaimSerializer
from .may import SQUARE, may_field, square_acts
from .pieces import NextStepSerializer
from .plan import Json, PlannedSquareSerializer, RowSerializer, rows_json, square_json
from .typed import shape


class LotOfSquareTold(TypedDict):
    """The dye lot that a square is knitted in: the id of its yarn, and what stands on the band."""

    yarn: int
    dye_lot: str


class SquareSerializer(serializers.Serializer[Any]):
    """A square and how far it is.

    ``lot``: the dye lot of its colour to knit it in, where several of them were chosen for the
    blanket; else null.
    """

    place = serializers.CharField()
    state = serializers.ChoiceField([state.value for state in State])
    size = serializers.IntegerField(min_value=1)
    colour = serializers.CharField(allow_blank=True)
    lot = shape(LotOfSquareTold)(allow_null=True)
    stands_on = serializers.ListField(child=serializers.CharField())
    claim = ClaimSerializer(allow_null=True)


class FinishedSerializer(SquareSerializer):
    """A square just finished, and the squares that became ready by it.

    ``next``: what is proposed about the piece that it belongs to, where pieces travel.
    """

    ready = serializers.ListField(child=serializers.CharField())
    next = NextStepSerializer(allow_null=True)


class WeighedSerializer(SquareSerializer):
    """A square that was weighed; ``odd`` when it is far from the others, and counts for nothing."""

    grams = serializers.FloatField()
    odd = serializers.BooleanField()


class ColouredSerializer(SquareSerializer):
    """A square with its new colour, and the others whose colour changed for it."""

    changed = serializers.ListField(child=serializers.CharField())


class ColourBody(Body):
    """The colour that a square is knitted in, by its name in the blanket's palette."""

    colour = serializers.CharField(max_length=40)
    value = serializers.RegexField(
        r"^#[0-9a-f]{6}\Z",
        required=False,
        help_text="How it looks, for yarn that somebody brings along: then it is a new colour.",
    )


class WeighBody(Body):
    """What a finished square weighs."""

    grams = serializers.DecimalField(
        max_digits=6,
        decimal_places=1,
        min_value=LIGHTEST,
        max_value=HEAVIEST,
        coerce_to_string=False,
    )


class WordsSerializer(serializers.Serializer[Any]):
    """The foundation as one reads it: a line for each step, the marker, how row 1 begins."""

    steps = serializers.ListField(child=serializers.CharField())
    marker = serializers.CharField()
    begin = serializers.CharField()
    glossary = serializers.DictField(
        child=serializers.CharField(), help_text="The abbreviations in the rows."
    )


class SquareDetailSerializer(SquareSerializer, PlannedSquareSerializer):
    """All that its knitter needs, in the order of work for the caller's hand."""

    may = may_field(SQUARE)
    hand = serializers.ChoiceField([hand.value for hand in Hand])
    in_words = WordsSerializer()
    rows = RowSerializer(many=True)
    worked = serializers.IntegerField()
    finished_at = serializers.DateTimeField(allow_null=True)
    knitter = serializers.IntegerField(allow_null=True)
    knitter_name = serializers.CharField(allow_null=True)
    grams = serializers.FloatField(allow_null=True, help_text="What it weighed when finished.")


def squares_json(board: Board, places: Iterable[Place]) -> list[Json]:
    """Some squares of the board."""
    return [
        _facts(
            board.plan,
            place,
            board.state_of[place],
            board.colours.get(place, ""),
            board.lots.get(place),
            board.claims.get(place),
        )
        for place in places
    ]


def one_square_json(square: Square, claim: Claim | None = None) -> Json:
    """One square; ``claim`` is the open one on it, if any."""
    yarn = square.dye_lot
    lot = None if yarn is None else SquareLot(yarn.pk, yarn.dye_lot)
    return _facts(square.blanket.plan(), square.place, square.told_state, square.colour, lot, claim)


def square_detail_json(square: Square, claim: Claim | None, me: Member) -> Json:
    """One square with its foundation, in numbers and in words, and its rows, for ``me``."""
    plan, place, hand = square.blanket.plan(), square.place, Hand(me.hand)
    steps, mitre = plan.foundation(place, hand), plan.layout.mitre
    return {
        **square_json(plan, place, hand),
        **one_square_json(square, claim),
        "may": square_acts(square_rights(square, claim, me)),
        "hand": hand.value,
        "in_words": {
            "steps": foundation_lines(plan, place, hand),
            "marker": marker_line(steps, mitre),
            "begin": begin_line(steps),
            "glossary": glossary(mitre),
        },
        **rows_json(plan.side_stitches(place), mitre),
        "finished_at": square.finished_at,
        "knitter": square.knitter_id,
        "knitter_name": square.knitter.name if square.knitter else None,
        "grams": None if square.grams is None else float(square.grams),
    }


def _facts(
    plan: Plan,
    place: Place,
    state: State,
    colour: str,
    lot: SquareLot | None,
    claim: Claim | None,
) -> Json:
    return {
        "place": str(place),
        "state": state.value,
        "size": plan.size[place],
        "colour": colour,
        "lot": lot and lot._asdict(),
        "stands_on": [str(support) for support in plan.stands_on[place]],
        "claim": ClaimSerializer(claim).data if claim else None,
    }
