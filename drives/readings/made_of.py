"""What a blanket is made of and stands, by the yarns of the store that its squares name."""

from collections import Counter

from drives.craft.fibre.blend import blend
from drives.craft.fibre.care import Care, gentlest
from drives.craft.fibre.fibres import Fibres
from drives.craft.layout.layout import Mitre
from drives.craft.layout.rows import worked
from drives.models.blanket import Blanket
from drives.models.yarn import Yarn


def made_of(blanket: Blanket) -> tuple[Fibres | None, Care]:
    """Its fibres, and the most that all of its yarns stand: two queries.

    Not known where a square names no yarn, or one that the store knows nothing of. Shares go by
    the stitches worked: what each yarn weighs to a stitch is not asked.
    """
    stitches: Counter[str] = Counter()
    for colour, size in blanket.squares.values_list("colour", "size"):
        stitches[colour] += worked(blanket.side_stitches(size), Mitre(blanket.mitre))
    lots: dict[str, list[Yarn]] = {colour: [] for colour in stitches}
    for yarn in Yarn.objects.filter(circle=blanket.drive.circle, colour__in=stitches):
        lots[yarn.colour].append(yarn)
    cares = [yarn.told_care for yarns in lots.values() for yarn in yarns]
    cares += [Care() for yarns in lots.values() if not yarns]
    fibres = [(_alike(yarns), float(stitches[colour])) for colour, yarns in lots.items()]
    return blend(fibres), gentlest(cares)


def _alike(lots: list[Yarn]) -> Fibres | None:
    """The fibres of all dye lots of one colour, if they are the same."""
    told = [yarn.told_fibres for yarn in lots]
    return told[0] if told and all(each == told[0] for each in told) else None
