"""A blanket that travels."""

import pytest

from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import Desk


@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    """Vera has piece A1, which nobody works on; B1 and A2 are ready."""
    desk = plan(mode="travelling")
    desk.knit("A1", cast.vera)
    return desk
