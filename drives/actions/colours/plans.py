"""Planning the colours of a blanket, and choosing one within the plan."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import NamedTuple

from accounts.actions.limits import spend_by
from accounts.models import Member
from drives.actions import refusals
from drives.actions.locks import hold_all_squares, hold_blanket
from drives.actions.log import note_blanket
from drives.actions.rights import square_rights
from drives.craft.colours.plan import Coloured
from drives.craft.places import Place
from drives.models import Blanket, Square, StoredState
from drives.readings.colour_plans import ColoursWanted, Draft, PaletteColour, colours_wanted, draft
from shared.basics.transactions import writing

from .lay_lots import lay_lots
from .palettes import brought, colour_names, note_wanted, without_former
from .refusals import colour_stays, no_colour_plan, no_lot_plan, not_in_palette


class Chosen(NamedTuple):
    """A square with its new colour, and the others that changed theirs for it."""

    square: Square
    others: tuple[Place, ...]


def spend_plan(by: Member, now: datetime) -> None:
    """Count one more colour plan that is searched for, stored or not. Raises LimitReached."""
    spend_by(by, "colour-plans", now)


def spend_choice(by: Member, now: datetime) -> None:
    """Count one more square whose possible colours are searched for. Raises LimitReached."""
    spend_by(by, "colour-choices", now)


def plan_colours(
    *, blanket: Blanket, by: Member, wanted: ColoursWanted, now: datetime
) -> list[Place]:
    """Store what is wanted, and give every square its colour by it; answers what changed.

    Squares that are coloured and begun, and those whose colour was chosen, keep theirs.
    Refused: no-colour-plan, colour-plan-gave-up, no-lot-plan. Raises LimitReached.
    """
    spend_plan(by, now)
    # Searching can take seconds, and nobody should wait for the lock meanwhile.
    before = draft(blanket, wanted)
    found = before.answer()
    with writing():
        blanket, _plan = hold_blanket(blanket)
        making = draft(blanket, wanted, hold_all_squares(blanket))
        if making.asks != before.asks:
            found = making.answer()
        if not isinstance(found, Coloured):
            raise no_colour_plan(found)
        noted = note_wanted(blanket, wanted)
        changed = _give(making, found.colours)
        if unplaced := lay_lots(making, making.colours):
            raise no_lot_plan(unplaced)
        if noted or changed:
            note_blanket(
                blanket, by, "colours-planned", now,
                squares=len(changed), pattern=wanted.pattern.value, colours=colour_names(wanted),
            )  # fmt: skip
    return changed


def set_palette(*, blanket: Blanket, by: Member, wanted: ColoursWanted, now: datetime) -> bool:
    """Store what is wanted, and no more; whether it was another before."""
    with writing():
        blanket, _plan = hold_blanket(blanket)
        noted = note_wanted(blanket, wanted)
        if noted:
            note_blanket(blanket, by, "palette-set", now, colours=colour_names(wanted))
    return noted


def choose_colour(
    *, square: Square, by: Member, colour: str, value: str = "", now: datetime
) -> Chosen:
    """The square is knitted in ``colour``, and the plan repairs itself around it.

    By who has it in hand, or a coordinator. ``value`` (#rrggbb): how yarn looks that is brought
    along; empty: a colour of the palette is meant. Refused: not-taken, not-yours, already-finished,
    not-in-palette, colour-is-there, no-colour-plan, colour-plan-gave-up. Raises LimitReached.
    """
    spend_plan(by, now)
    with writing():
        blanket, _plan = hold_blanket(square.blanket)
        squares = hold_all_squares(blanket)
        square, member = _to_choose(squares, square, by)
        asked = colours_wanted(blanket)
        if not asked.palette:
            raise not_in_palette(colour, [])
        known = asked.hue(colour)
        if known and square.colour_fixed and square.colour == known.name:
            return Chosen(square, ())
        asked = without_former(asked, squares, square)
        asked = brought(asked, PaletteColour(colour, value, own=True)) if value else asked
        hue = asked.hue(colour)
        if hue is None:
            raise not_in_palette(colour, colour_names(asked))
        making = draft(blanket, asked, squares)
        found = making.repaired(square.place, hue.name)
        if not isinstance(found, Coloured):
            raise no_colour_plan(found, square.place, hue.name)
        note_wanted(blanket, asked)
        square.colour_fixed = True
        square.save(update_fields=["colour_fixed"])
        changed = _give(making, {**found.colours, square.place: hue.name})
        lay_lots(making, making.colours)
        others = tuple(place for place in changed if place != square.place)
        note_blanket(
            blanket, by, "colour-chosen", now,
            place=str(square), member=member.pk, colour=hue.name, changed=len(others),
        )  # fmt: skip
    return Chosen(square, others)


def _to_choose(squares: Sequence[Square], asked: Square, by: Member) -> tuple[Square, Member]:
    """The held square, and who is to knit it as far as it is known."""
    square = next((each for each in squares if each.pk == asked.pk), None)
    if square is None:  # a change of the layout has just taken it away
        raise refusals.not_taken(asked.place)
    if square.state == StoredState.FINISHED:
        raise colour_stays(square.place)
    claim = square.open_claim()
    if not square_rights(square, claim, by).choose_colour:
        raise refusals.not_yours(square.place, claim) if claim else refusals.not_taken(square.place)
    return square, claim.member if claim else by


def _give(making: Draft, colours: Mapping[Place, str]) -> list[Place]:
    """Write the colours that are others than before."""
    changed = [
        square
        for square in making.squares
        if colours.get(square.place, square.colour) != square.colour
    ]
    for square in changed:
        square.colour = colours[square.place]
    Square.objects.bulk_update(changed, ["colour"], batch_size=500)
    return sorted(square.place for square in changed)
