"""The circle of these tests."""

import pytest

from drives.craft.layout.layout import Layout
from tests.cast import Cast, make_cast
from tests.desk import DAY, NOW, Desk, new_blanket


@pytest.fixture
def cast(db: None) -> Cast:
    return make_cast(NOW - 30 * DAY)


@pytest.fixture
def desk(cast: Cast) -> Desk:
    """A blanket of 2 × 2 squares of 20 stitches; nothing is begun."""
    return Desk(new_blanket(cast.olga, Layout(2, 2, 20)))
