"""The people of these tests."""

from datetime import datetime

import pytest

from tests.cast import NOW


@pytest.fixture
def came_in() -> datetime:
    return NOW
