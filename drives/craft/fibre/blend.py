"""What a blanket is made of, from its yarns."""

from collections.abc import Sequence

from .fibres import Fibre, Fibres


def blend(yarns: Sequence[tuple[Fibres | None, float]]) -> Fibres | None:
    """The fibres of what is knitted from several yarns, each with its grams.

    None where those of one of them are not known, or nothing is knitted yet. Shares are rounded to
    a sum of 100; the least trace is told as 1 %, for to somebody it may matter.
    """
    used = [(fibres, grams) for fibres, grams in yarns if grams > 0]
    grams_of: dict[Fibre, float] = {}
    for fibres, grams in used:
        if fibres is None:
            return None
        for fibre, share in fibres.items():
            grams_of[fibre] = grams_of.get(fibre, 0) + share * grams
    if not used:
        return None
    total = sum(grams_of.values())
    exact = {fibre: grams / total * 100 for fibre, grams in grams_of.items()}
    shares = {fibre: max(int(share), 1) for fibre, share in exact.items()}
    while (missing := 100 - sum(shares.values())) != 0:  # at most one step for each fibre
        step = 1 if missing > 0 else -1
        # whose share is the furthest from the exact one; the traces keep their 1 %
        able = [fibre for fibre in shares if shares[fibre] + step >= 1]
        shares[max(able, key=lambda fibre: (exact[fibre] - shares[fibre]) * step)] += step
    return shares
