"""The yarn store and what members have of it, against the lines of the ledger."""

from collections.abc import Iterator

from django.db.models import F, Sum

from drives.models import Holding, Move, Reservation, Yarn

from .finding import Finding, where


def audit_yarns() -> Iterator[Finding]:
    yield from _store()
    yield from _hands()
    yield from _reserved()


def _store() -> Iterator[Finding]:
    counted = Yarn.objects.annotate(told=Sum("moves__grams", default=0)).order_by("pk")
    for yarn in counted.exclude(told=F("grams")):
        what = f"{yarn.grams} g are in the store, but {yarn.told} g by the ledger."
        yield Finding(where(yarn), what)


def _hands() -> Iterator[Finding]:
    lines = Move.objects.exclude(member=None).order_by().values("yarn", "member")
    told = {
        (line["yarn"], line["member"]): line["grams"] for line in lines.annotate(grams=Sum("held"))
    }
    for holding in Holding.objects.select_related("member").order_by("pk"):
        grams = told.pop((holding.yarn_id, holding.member_id), 0)
        if holding.grams != grams:
            what = f"{holding.member} has {holding.grams} g, but {grams} g by the ledger."
            yield Finding(where(holding), what)
    for (yarn_id, member_id), grams in told.items():
        if grams:
            what = f"member {member_id} has {grams} g by the ledger, but nothing is noted."
            yield Finding(f"yarn {yarn_id}", what)


def _reserved() -> Iterator[Finding]:
    there = dict(Yarn.objects.values_list("pk", "grams"))
    for yarn_id, grams in Holding.objects.values_list("yarn", "grams"):
        there[yarn_id] += grams
    kept = Reservation.objects.order_by("yarn").values_list("yarn").annotate(grams=Sum("grams"))
    for yarn_id, grams in kept:
        if grams > there[yarn_id]:
            what = f"{grams} g are reserved, but there are {there[yarn_id]} g."
            yield Finding(f"yarn {yarn_id}", what)
    given = Reservation.objects.exclude(blanket__gift__given_on=None).order_by("pk")
    for reservation in given:
        what = (
            f"blanket {reservation.blanket_id} is handed over, but {reservation.grams} g are kept."
        )
        yield Finding(f"yarn {reservation.yarn_id}", what)
