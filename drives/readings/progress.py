"""How far blankets are, counted by the database."""

from django.db.models import Count, Exists, F, OuterRef, Q, QuerySet

from drives.models import Blanket, Square, StoredState

_ready = Q(squares__state=StoredState.OPEN, squares__unmet=0)


def with_progress(blankets: QuerySet[Blanket]) -> QuerySet[Blanket]:
    """Each with ``squares_all``, ``squares_finished``, ``squares_taken`` and ``squares_ready``."""
    return blankets.annotate(
        squares_all=Count("squares"),
        squares_finished=Count("squares", filter=Q(squares__state=StoredState.FINISHED)),
        squares_taken=Count("squares", filter=Q(squares__state=StoredState.TAKEN)),
        squares_ready=Count("squares", filter=_ready),
    )


def unfinished_blankets(blankets: QuerySet[Blanket]) -> QuerySet[Blanket]:
    """Those with squares still to finish, what is wanted first first; with their progress."""
    left = Square.objects.filter(blanket=OuterRef("pk")).exclude(state=StoredState.FINISHED)
    return (
        with_progress(blankets.filter(Exists(left)))
        .select_related("drive__circle", "drive__receiver")
        .order_by(F("drive__deadline").asc(nulls_last=True), "pk")
    )
