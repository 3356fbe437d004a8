"""A blanket in the middle of its life, whose rows a test can break."""

from collections.abc import Iterator

import pytest

from accounts.models import Member
from tests.broken import run
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import Desk, seams


@pytest.fixture
def asleep(db: None) -> Iterator[None]:
    """Check constraints sleep; unique ones have to be dropped by the test."""
    run("PRAGMA ignore_check_constraints = ON")
    yield
    run("PRAGMA ignore_check_constraints = OFF")


@pytest.fixture
def desk(asleep: None, cast: Cast, will: Member, plan: Plan) -> Desk:
    """Two panels, A and B–C. A1, A2, B1, C1 finished, B2 taken, A3 ready, C2 waiting for B2."""
    desk = plan(3, 3, seams=seams("A1-B1 A2-B2 A3-B3"))
    desk.knit("A1 A2 B1", cast.vera)
    desk.knit("C1", will)
    desk.claim("B2", cast.vera)
    return desk
