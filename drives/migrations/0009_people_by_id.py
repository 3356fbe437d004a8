"""Events name people by their ids; the names are looked up when somebody reads.

A name is looked for among all that the circle's people have and, as the log tells, once had. Where
two had the same, or none, the row that was written at that moment tells whose it was. A name that
nobody can be found for stays as it is.
"""

from collections import defaultdict

from django.db import migrations
from django.db.models import Q

NAMED = ("member", "to")
AT_A_TIME = 1000


def people_by_id(apps, editor):
    database = editor.connection.alias
    events = apps.get_model("accounts", "Event").objects.using(database).order_by("pk")
    known = names_by_circle(apps, database, events)
    changed = []
    for event in events.iterator(chunk_size=AT_A_TIME):
        facts = by_id(apps, database, event, known[event.circle_id])
        if facts != event.facts:
            event.facts = facts
            changed.append(event)
        if len(changed) == AT_A_TIME:
            events.bulk_update(changed, ["facts"])
            changed = []
    events.bulk_update(changed, ["facts"])


def names_by_circle(apps, database, events):
    """For each circle its names, and the ids of those who have or had each."""
    known = defaultdict(lambda: defaultdict(set))
    members = apps.get_model("accounts", "Member").objects.using(database)
    for pk, circle, name in members.values_list("pk", "circle_id", "name"):
        known[circle][name].add(pk)
    for circle, facts in events.filter(topic="circle").values_list("circle_id", "facts"):
        if isinstance(facts.get("member"), int) and facts.get("name"):
            known[circle][facts["name"]].add(facts["member"])
    return known


def by_id(apps, database, event, known):
    """The event's facts with ids where they hold names."""
    facts = dict(event.facts)
    if isinstance(facts.get("member"), int):
        facts.pop("name", None)
    for fact in NAMED:
        name = facts.get(fact)
        if name == "":
            facts[fact] = None
        elif isinstance(name, str):
            meant = known.get(name, set())
            if len(meant) != 1:
                meant = set(at_that_moment(apps, database, event))
            if len(meant) == 1:
                [facts[fact]] = meant
    return facts


def at_that_moment(apps, database, event):
    """The ids of members whose row was written, or was open, when the event was."""

    def rows(model):
        return apps.get_model("drives", model).objects.using(database)

    facts, blanket, at = event.facts, event.topic_id, event.at
    if "to" in facts:
        moments = Q(arranged_at=at) | Q(sent_at=at) | Q(ended_at=at)
        piece = Q(piece__blanket=blanket, piece__name=facts["piece"])
        return rows("HandOver").filter(moments, piece).values_list("receiver", flat=True)
    if event.verb.startswith("yarn-"):
        return rows("Move").filter(yarn=facts["id"], at=at).values_list("member", flat=True)
    if event.verb == "measured":
        measured = rows("Measurement").filter(blanket=blanket, measured_at=at)
        return measured.values_list("member", flat=True)
    if event.verb in ("asked-for-piece", "left-the-line"):
        turns = rows("Turn").filter(Q(asked_at=at) | Q(ended_at=at))
        piece = Q(piece__blanket=blanket, piece__name=facts["piece"])
        return turns.filter(piece).values_list("member", flat=True)
    if event.verb == "weighed":
        square = rows("Square").filter(blanket=blanket, finished_at__lte=at)
        return square.filter(**place(facts["place"])).values_list("knitter", flat=True)
    if facts.get("place"):
        where = {f"square__{name}": value for name, value in place(facts["place"]).items()}
        claims = rows("Claim").filter(square__blanket=blanket, taken_at__lte=at, **where)
        held = claims.filter(Q(ended_at=None) | Q(ended_at__gte=at))
        return held.values_list("member", flat=True)
    return ()


def place(name):
    """The column and the row of a place such as ``B12``; the columns after Z are AA, AB, …"""
    column = 0
    letters = name.rstrip("0123456789")
    for letter in letters:
        column = column * 26 + ord(letter) - ord("A") + 1
    return {"column": column, "row": int(name[len(letters) :])}


class Migration(migrations.Migration):
    dependencies = [
        ("accounts", "0003_invitation_mail"),
        ("drives", "0008_fair_turns"),
    ]

    operations = [migrations.RunPython(people_by_id, migrations.RunPython.noop, elidable=False)]
