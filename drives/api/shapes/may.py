"""What the caller may do: each act is named as the address is that does it."""

from collections.abc import Mapping, Sequence

from rest_framework import serializers

from drives.actions.rights import HandOverRights, PieceRights, SquareRights

SQUARE = (
    *("claim", "finish", "give-back", "extend", "release"),
    *("rip-back", "weigh", "measure", "colour"),
)
PIECE = ("hand-overs", "leave-line", "lost")
HAND_OVER = ("send", "receive", "cancel")


def may_field(acts: Sequence[str]) -> serializers.ListField:
    """Some of ``acts``: other reasons may still stand against one when it is tried."""
    return serializers.ListField(
        child=serializers.ChoiceField(acts),
        help_text="What the caller may do now, by the last part of its address.",
    )


def square_acts(rights: SquareRights) -> list[str]:
    return _named(
        {
            "claim": rights.claim or rights.claim_for,
            "finish": rights.finish,
            "give-back": rights.finish,
            "extend": rights.extend,
            "release": rights.extend,
            "rip-back": rights.rip_back,
            "weigh": rights.weigh,
            "measure": rights.weigh,
            "colour": rights.choose_colour,
        }
    )


def piece_acts(rights: PieceRights, *, in_line: bool) -> list[str]:
    return _named({"hand-overs": rights.arrange, "leave-line": in_line, "lost": rights.lose})


def hand_over_acts(rights: HandOverRights) -> list[str]:
    return _named({"send": rights.send, "receive": rights.receive, "cancel": rights.cancel})


def _named(acts: Mapping[str, bool]) -> list[str]:
    return [act for act, may in acts.items() if may]
