"""The log keeps conflicts with a receiver's rules as codes and facts.

It kept the English sentence in which a conflict was told when somebody overruled or upheld it.
What that sentence tells is read out of it, with lengths as it rounded them. A sentence that cannot
be read stays, as the fact ``said``.
"""

import re

from django.db import migrations

LENGTH = r"([\d.]+ (?:cm|in))"
AT = r"(?: at (?P<temperature>\d+) °C)?"
YARN = "“(?P<yarn>.+)”"
NAMES = {
    "rayon": "viscose",
    "bamboo rayon": "bamboo viscose",
    "nylon": "polyamide",
    "spandex": "elastane",
}
ASKED = {
    "be washed before it is given": "not-washed",
    "come from homes without smoke": "smoke",
    "be free from pet hair": "pets",
    "have a label with its fibres and care": "no-label",
}
WHEELS = " Excess cloth catches in the wheels."
BABIES = ": fingers and tubes catch in them"


def in_cm(told):
    number, unit = told.split()
    return float(number) * (2.54 if unit == "in" else 1)


def too_small(side, verb, real, least, short):
    return "too-small", side, {
        "finished": verb == "is",
        "is": in_cm(real),
        "least": in_cm(least),
        "short": in_cm(short),
    }


def too_large(side, verb, real, most, over, wheels):
    return "too-large", side, {
        "finished": verb == "is",
        "is": in_cm(real),
        "most": in_cm(most),
        "over": in_cm(over),
        "wheelchairs": bool(wheels),
    }


def read(sentence):
    """Its code, what it is about, and its facts; None where it is none of those that were told."""
    begins = rf"The blanket (?P<verb>would be|is) (?P<real>{LENGTH}) on its (?P<side>\w+) side; the receiver takes "
    if found := re.fullmatch(
        rf"{begins}(?P<least>{LENGTH}) or more: it is (?P<short>{LENGTH}) short\.", sentence
    ):
        return too_small(**found.groupdict())
    if found := re.fullmatch(
        rf"{begins}(?P<most>{LENGTH}) at most: it is (?P<over>{LENGTH}) too much\.(?P<wheels>{WHEELS})?",
        sentence,
    ):
        return too_large(**found.groupdict())
    if found := re.fullmatch(
        rf"The layout leaves a hole at (.+); the receiver takes none({BABIES})?\.", sentence
    ):
        places = found[1].split(", ")
        return "holes", "", {"finished": False, "places": places, "babies": bool(found[2])}
    if found := re.fullmatch(rf"The blanket has holes; the receiver takes none({BABIES})?\.", sentence):
        return "holes", "", {"finished": True, "babies": bool(found[1])}
    if sentence == "The blanket has a fringe; the receiver takes none.":
        return "fringe", "", {}
    if sentence.startswith("The blanket has been washed; the receiver wants it as it comes off"):
        return "washed", "", {}
    if found := re.fullmatch(
        rf"The receiver asks that the blanket ({'|'.join(ASKED)}); (.+)\.", sentence
    ):
        return ASKED[found[1]], "", {"told": found[2] == "this one falls short"}
    return read_of_yarn(sentence)


def read_of_yarn(sentence):
    for code, words in (
        ("fibres-unknown", f"Nobody knows what {YARN} is made of; the receiver asks for it."),
        ("fibre-refused", rf"{YARN} has (?P<share>\d+) % (?P<fibre>[\w ]+); the receiver refuses it."),
        (
            "fibre-not-wanted",
            rf"{YARN} has (?P<share>\d+) % (?P<fibre>[\w ]+); "
            r"the receiver wants nothing but (?P<wanted>[\w ]+).",
        ),
        (
            "washing-unknown",
            f"Nobody has told how {YARN} is washed; the receiver washes in the machine{AT}.",
        ),
        (
            "not-machine-washable",
            f"{YARN} cannot go into the washing machine; the receiver washes in the machine{AT}.",
        ),
        (
            "washed-too-hot",
            rf"{YARN} is washed at (?P<stands>\d+) °C at most; "
            f"the receiver washes in the machine{AT}.",
        ),
        (
            "drying-unknown",
            f"Nobody has told whether {YARN} can be tumble dried; the receiver does so.",
        ),
        ("not-tumble-dried", f"{YARN} must not be tumble dried; the receiver does so."),
        ("dye-runs", f"The dye of {YARN} runs in water; the blanket will be washed."),
        ("dye-untested", f"{YARN} is dark, and nobody has tried whether its dye stays in."),
    ):
        if found := re.fullmatch(words, sentence):
            return code, *facts_of_yarn(found.groupdict())
    return None


def facts_of_yarn(facts):
    """What the conflict is about, and the other facts."""
    for name in {"share", "stands", "temperature"} & facts.keys():
        facts[name] = facts[name] and int(facts[name])
    if "wanted" in facts:
        facts["wanted"] = [NAMES.get(name, name) for name in facts["wanted"].split(" and ")]
    fibre = facts.pop("fibre", "")
    return NAMES.get(fibre, fibre), facts


def codes_and_facts(apps, editor):
    database = editor.connection.alias
    Event = apps.get_model("accounts", "Event")
    events = Event.objects.using(database).filter(verb__in=["overruled", "upheld"])
    for event in events.iterator():
        facts = dict(event.facts)
        if "conflict" not in facts:
            continue
        sentence = facts.pop("conflict")
        if found := read(sentence):
            code, about, more = found
            subject = subject_of(apps, database, event, code, about)
            facts |= {"subject": subject, "code": code, "about": about, "facts": more}
        else:
            facts["said"] = sentence
        Event.objects.using(database).filter(pk=event.pk).update(facts=facts)


def subject_of(apps, database, event, code, about):
    """What the conflict is of, where that can still be known; else empty."""
    Overruling = apps.get_model("drives", "Overruling")
    same = Overruling.objects.using(database).filter(
        drive=event.topic_id, at=event.at, code=code, about=about
    )
    return same.values_list("subject", flat=True).first() or ""


class Migration(migrations.Migration):
    dependencies = [("accounts", "0002_paper"), ("drives", "0005_sheet_kinds")]

    operations = [migrations.RunPython(codes_and_facts, migrations.RunPython.noop, elidable=False)]
