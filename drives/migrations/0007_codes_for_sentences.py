"""What a document failed for is a code, and that a file told of yarn is a fact of its own.

Both were kept as sentences, in the language of whoever happened to write them.
"""

from django.db import migrations, models

TROUBLES = {
    "It took too long to make.": "too-slow",
    "It could not be stored.": "not-stored",
    "Something went wrong on our side.": "our-side",
    "The work on it stopped again and again.": "stopped",
}
FROM_FILE = "from a file"


def codes(apps, editor):
    database = editor.connection.alias
    sheets = apps.get_model("drives", "Sheet").objects.using(database)
    for sentence, code in TROUBLES.items():
        sheets.filter(error=sentence).update(error=code)
    moves = apps.get_model("drives", "Move").objects.using(database)
    moves.filter(note=FROM_FILE).update(note="", from_file=True)


class Migration(migrations.Migration):
    dependencies = [("drives", "0006_conflicts_in_the_log")]

    operations = [
        migrations.AddField(
            model_name="move",
            name="from_file",
            field=models.BooleanField(default=False, verbose_name="told by a file"),
        ),
        migrations.RunPython(codes, migrations.RunPython.noop),
    ]
