"""Brings databases of all ages to one schema.

While 0002 and 0003 were young they were edited in place, so a database that was made in between
has other tables than one that is made today, and its list of migrations tells nothing of it.
Of all their states those count with which the site could be started. Such a database may

* let a letter pass that was sent though nobody had taken it (``letter_taken_before_it_is_sent``),
* let half a swatch pass (``swatch_has_stitches_rows_and_grams``),
* lack the answers to six questions of receivers (``Gift``),
* know of a migration ``0004_swatch``, which is part of 0003 now.

A database that is as it should be comes through unharmed. The migrations of accounts, and 0001
here, have not changed since the site was first given away.
"""

from django.db import migrations, models
from django.db.migrations.recorder import MigrationRecorder

ANSWERS = ["fringe", "holes", "label", "pet_free", "smoke_free", "washed"]
NO_SWATCH = {"swatch_stitches": None, "swatch_rows": None, "swatch_grams": None}


def one_schema(apps, editor):
    letter, gift, yarn = (apps.get_model("drives", name) for name in ("Letter", "Gift", "Yarn"))
    database = editor.connection.alias

    # Sent, so taken: at the latest then.
    sent = letter.objects.using(database).filter(taken_at=None, sent_at__isnull=False)
    sent.update(taken_at=models.F("sent_at"))
    make_anew(editor, letter, "letter_taken_before_it_is_sent")

    # Half a swatch tells nothing.
    half = models.Q(swatch_stitches=None) | models.Q(swatch_rows=None) | models.Q(swatch_grams=None)
    yarn.objects.using(database).filter(half).update(**NO_SWATCH)
    make_anew(editor, yarn, "swatch_has_stitches_rows_and_grams")

    known = columns(editor, gift)
    for name in ANSWERS:
        if name not in known:
            editor.add_field(gift, gift._meta.get_field(name))

    MigrationRecorder(editor.connection).record_unapplied("drives", "0004_swatch")


def make_anew(editor, model, name):
    """The constraint as it should be. (SQLite makes the whole table anew, as it should be.)"""
    (constraint,) = (one for one in model._meta.constraints if one.name == name)
    with editor.connection.cursor() as cursor:
        known = editor.connection.introspection.get_constraints(cursor, model._meta.db_table)
    if name in known:
        editor.remove_constraint(model, constraint)
    editor.add_constraint(model, constraint)


def columns(editor, model):
    with editor.connection.cursor() as cursor:
        table = editor.connection.introspection.get_table_description(cursor, model._meta.db_table)
    return {column.name for column in table}


class Migration(migrations.Migration):

    dependencies = [
        ('drives', '0003_yarn'),
    ]

    operations = [
        migrations.RunPython(one_schema, migrations.RunPython.noop),
    ]
