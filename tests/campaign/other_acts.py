"""What people do with yarn, layouts, each other, letters and documents."""

import re

from .book import Fact
from .client import Turn

LINK = re.compile(rb"/join/([\w-]+)/")


def move_yarn(turn: Turn) -> None:
    yarn, member = turn.random.choice(turn.world.yarns), turn.anybody().member
    way = turn.random.choice(("received", "handed-out", "returned", "knitted"))
    grams = turn.random.randint(1, 400)
    body: dict[str, object] = {"way": way, "grams": grams}
    if way != "received":
        body["member"] = member
    turn.call(
        turn.coordinator(), f"yarns/{yarn}/moves/", Fact("moved", yarn, f"{way} {grams}"), body
    )


def draw_layout(turn: Turn) -> None:
    """Take a corner out or put it back; the others must stay as they are where they are begun."""
    quilt = next(quilt for quilt in turn.world.quilts if quilt.changes)
    missing = turn.random.choice(("", "C2", "A2"))
    form = {
        "do": "save", "stitches": 12, "columns": 3, "rows": 2, "mitre": "paired", "brush": 1,
        "missing": missing, "large": "", "seams": "", "past": "",
    }  # fmt: skip
    organiser = turn.world.people[0]
    fact = Fact("layout-changed", quilt.pk)
    turn.send(organiser, f"/blankets/{quilt.pk}/layout/", fact, form, sure=True)


def add_on_paper(turn: Turn) -> None:
    name = f"Paper {turn.name} {turn.random.random():.12f}"
    form = {"name": name, "reach": "knock at the red door", "hand": "right"}
    path = f"/circles/{turn.world.circle}/people/add/"
    turn.send(turn.coordinator(), path, Fact("member", turn.world.circle, name), form, sure=True)


def invite(turn: Turn) -> None:
    to = f"{turn.name}.{turn.random.randrange(10**9)}@example.org"
    email = turn.random.choice(("", to))
    form = {"roles": ["volunteer"], "days": 14, "email": email}
    path = f"/circles/{turn.world.circle}/invite/"
    fact = Fact("invited", turn.world.circle, email) if email else None
    answer = turn.send(turn.coordinator(), path, fact, form, shown=200)
    if answer and (link := LINK.search(answer.body)):
        turn.world.links.append(link[1].decode())


def join(turn: Turn) -> None:
    links, number = turn.world.links[:], turn.random.random()
    newcomer = turn.random.choice(turn.world.newcomers)
    if links:
        token = links[int(number * len(links))]
        fact = Fact("joined", turn.world.circle, str(newcomer.user))
        turn.send(newcomer, f"/join/{token}/", fact, {"hand": "right"})


def take_out(turn: Turn) -> None:
    """A newcomer, if they have come in; their members are found on the page of people."""
    answer = turn.get(turn.anybody(), f"circles/{turn.world.circle}/members/?page_size=200")
    if answer is None or answer.status != 200:
        return
    members = answer.json["results"]
    come_in = [member["id"] for member in members if member["name"].startswith("New")]
    if come_in:
        member = turn.random.choice(come_in)
        path = f"/circles/{turn.world.circle}/people/{member}/remove/"
        turn.send(
            turn.world.people[0], path, Fact("member-removed", turn.world.circle, str(member)), {}
        )


def choose_letters(turn: Turn) -> None:
    wanted = turn.random.choice((["late"], []))
    turn.send(turn.anybody(), f"/circles/{turn.world.circle}/letters/", None, {"wanted": wanted})


def print_sheet(turn: Turn) -> None:
    blanket = turn.quilt().pk
    kind = turn.random.choice(("status", "wall"))
    answer = turn.call(turn.coordinator(), f"blankets/{blanket}/sheets/", None, {"kind": kind})
    if answer is not None and answer.status == 202:
        turn.book.note(turn.book.done, Fact("document", answer.json["id"]))
