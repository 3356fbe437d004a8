"""``python -m tests.bench.seed NAME``: fill a fresh database and print what the load needs.

Rows are made in bulk, not through the actions, which would take minutes.
"""

import json
import sys
from decimal import Decimal
from itertools import islice, pairwise
from typing import Any

import django
from django.core.management import call_command
from django.utils import timezone

CLIENTS = 32
ROUNDS = 3
A_ROUND = 640


def claims() -> dict[str, Any]:
    """For each round, addresses to claim at and the keys to do it with; and squares for the floor.

    Blankets of one row, every square cut from the next by a seam: all can be begun.
    """
    from drives.actions.drives.blankets import plan_blanket
    from drives.craft.layout.layout import Layout, Seam
    from drives.craft.places import Place

    organiser, keys = _people(A_ROUND // 20)
    row = [Place(column, 1) for column in range(1, 21)]
    seams = frozenset(Seam(one, other) for one, other in pairwise(row))
    layout = Layout(20, 1, 20, seams=seams)
    rounds, floor = [], []
    for _ in range(ROUNDS):
        drive = _drive(organiser)
        made = [
            plan_blanket(
                drive=drive, by=organiser, name="B", gauge=Decimal(20),
                layout=layout, now=timezone.now(),
            )
            for _ in range(A_ROUND // 10)
        ]  # fmt: skip
        ours, theirs = made[::2], made[1::2]
        paths = [
            f"/api/v1/blankets/{blanket.pk}/squares/{at}/claim/" for at in row for blanket in ours
        ]
        rounds.append([[path, keys[index % len(keys)]] for index, path in enumerate(paths)])
        floor.append([square.pk for blanket in theirs for square in blanket.squares.all()])
    return {"rounds": rounds, "floor": floor}


def pages() -> dict[str, Any]:
    """Blankets of 10 × 10 and 40 × 40 in mid-progress, and a session of their organiser."""
    from accounts.sessions import SessionStore

    organiser, _keys = _people(8)
    drive = _drive(organiser)
    blankets = {str(side): _begun(drive, organiser, side, side).pk for side in (10, 40)}
    session = SessionStore()
    session["_auth_user_id"] = str(organiser.user.pk)
    session["_auth_user_backend"] = "allauth.account.auth_backends.AuthenticationBackend"
    session["_auth_user_hash"] = organiser.user.get_session_auth_hash()
    session.save()
    return {"blankets": blankets, "session": session.session_key, "user": organiser.user.pk}


def planner() -> tuple[int, Any]:
    """A drive without blankets, and the login of its organiser."""
    organiser, _keys = _people(1)
    return _drive(organiser).pk, organiser.user


def sheet_of(columns: int, rows: int, *, kind: str, options: dict[str, str]) -> Any:
    """A sheet asked for, of a blanket in mid-progress with twenty people at work."""
    from drives.models import Sheet

    organiser, _keys = _people(20)
    blanket = _begun(_drive(organiser), organiser, columns, rows)
    return Sheet.objects.create(
        blanket=blanket, kind=kind, fingerprint="bench", options=options,
        requested_by=organiser, requested_at=timezone.now(),
    )  # fmt: skip


def batch() -> dict[str, Any]:
    """Five hundred sheets of one blanket, each with a message in the queue of batches."""
    from drives.actions.paper.sheets import resend_sheets
    from drives.models import Sheet
    from drives.sheets.kinds import STATUS

    organiser, _keys = _people(8)
    blanket, now = _begun(_drive(organiser), organiser, 4, 4), timezone.now()
    Sheet.objects.bulk_create(
        Sheet(
            blanket=blanket, kind=STATUS.code, fingerprint=f"bench {number}",
            options={"paper": "A4"}, in_batch=True, requested_by=organiser, requested_at=now,
        )
        for number in range(500)
    )  # fmt: skip
    return {"sent": resend_sheets(error="", now=now)}


def _begun(drive: Any, organiser: Any, columns: int, rows: int) -> Any:
    """A blanket whose first third is finished, the next squares taken as far as people go."""
    from accounts.models import Member
    from drives.actions.drives.blankets import plan_blanket
    from drives.actions.squares import claims as actions
    from drives.craft.layout.layout import Layout
    from drives.models import Square, StoredState
    from drives.readings.board import board_of

    now = timezone.now()
    blanket = plan_blanket(
        drive=drive, by=organiser, name="B", gauge=Decimal(20),
        layout=Layout(columns, rows, 20), now=now,
    )  # fmt: skip
    plan = blanket.plan()
    done = set(islice(plan.places, len(plan.places) // 3))
    squares = list(blanket.squares.all())
    for square in squares:
        square.unmet = sum(support not in done for support in plan.stands_on[square.place])
        if square.place in done:
            square.state, square.finished_at, square.knitter = StoredState.FINISHED, now, organiser
    fields = ["unmet", "state", "finished_at", "knitter"]
    Square.objects.bulk_update(squares, fields, batch_size=200)
    people = Member.objects.filter(circle=drive.circle, is_organiser=False)
    for member, offer in zip(people, board_of(blanket).offers, strict=False):
        square = blanket.squares.at(offer.place).get()
        actions.claim_square(square=square, member=member, by=organiser, now=now)
    return blanket


def _people(knitters: int) -> tuple[Any, list[str]]:
    """The organiser of a new circle, and an API key for each of its knitters."""
    from accounts.models import ApiToken, Circle, Member, User, digest_of

    now = timezone.now()
    circle = Circle.objects.create(name="Bench", created_at=now)
    people, keys = [], []
    for number in range(knitters + 1):
        user = User.objects.create(email=f"p{number}@bench{circle.pk}.example", name=f"P{number}")
        people.append(
            Member.objects.create(
                circle=circle, user=user, name=user.name, joined_at=now,
                is_organiser=number == 0, is_volunteer=number > 0,
            )
        )  # fmt: skip
        key = f"bench-key-{circle.pk}-{number}"
        ApiToken.objects.create(
            user=user, name="bench", digest=digest_of(key), prefix=key[:8], created_at=now
        )
        keys.append(key)
    return people[0], keys[1:]


def _drive(organiser: Any) -> Any:
    from drives.models import Drive

    return Drive.objects.create(
        circle=organiser.circle, name="Bench", claim_limit=20, created_at=timezone.now()
    )


if __name__ == "__main__":
    django.setup()
    call_command("migrate", verbosity=0)
    print(json.dumps({"claims": claims, "pages": pages, "batch": batch}[sys.argv[1]]()))
