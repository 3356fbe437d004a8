"""Every page that somebody can see: nothing that axe-core finds, nothing to scroll sideways for."""

import pytest

from tests.matrix.world import World, make_world
from tests.test_access_matrix import LINES, ROLES, address

from .conftest import NARROW, WIDE, SignIn
from .looks import faults

pytestmark = pytest.mark.browser

# Answers for programs, and files.
FILES = (
    *("drives:sheet_file", "drives:export", "drives:map_file", "drives:feed", "drives:yarn_csv"),
    *("drives:circle_data", "metrics"),
)
NO_PAGES = ("api:", "health", "metrics", "drives:live", *FILES)
SEEN_BY = ("anonymous", "volunteer", "organiser")
# Organisers see every page that volunteers see; on these a volunteer finds other things to do.
OF_VOLUNTEERS = (
    *("drives:home", "drives:circle", "drives:drive", "drives:blanket", "drives:square"),
    *("drives:square_colour", "drives:pieces", "drives:piece", "drives:print", "drives:code"),
    *("drives:yarns", "drives:yarn", "drives:colours", "drives:gauge", "drives:letters"),
    *("drives:calendar", "accounts:me", "accounts:people"),
)


@pytest.mark.parametrize("role", SEEN_BY)
def test_pages_are_accessible_and_fit(live_server: object, sign_in: SignIn, role: str) -> None:
    world = make_world()
    page = sign_in(world.user(role))
    found = []
    for path in sorted(pages_of(role, world)):
        page.goto(path)
        found += faults(page, WIDE, NARROW)
    assert found == []


def pages_of(role: str, world: World) -> set[str]:
    """The addresses that show ``role`` a page, and one of each kind of page that says no."""
    shown: dict[str, list[str]] = {}
    for line in LINES:
        outcome = line.outcomes[ROLES.index(role)]
        if role == "volunteer" and line.url not in OF_VOLUNTEERS:
            continue
        if line.method == "GET" and not line.url.startswith(NO_PAGES):
            shown.setdefault(outcome, []).append(address(world, line.url, line.parts))
    says_no = {shown[outcome][0] for outcome in shown.keys() - {"200", "302", "login"}}
    return {*shown["200"], *says_no}
