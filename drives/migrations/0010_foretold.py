"""What was foreseen lies in the row: pages show it, and a file may be away.

What was kept in files is taken over. One whose file cannot be read is given up: it is worked out
anew as soon as somebody asks.
"""

import json

from django.core.files.storage import default_storage
from django.db import migrations, models, transaction
from django.db.models import Q

LOOKS_AHEAD = ['forecast', 'panels']


def take_over(apps, schema_editor):
    database = schema_editor.connection.alias
    sheets = apps.get_model('drives', 'Sheet').objects.using(database)
    done = sheets.filter(kind__in=LOOKS_AHEAD, status='done', foretold__isnull=True)
    for pk, name in list(done.values_list('pk', 'file')):
        row = sheets.filter(pk=pk)
        try:
            with default_storage.open(name) as file:
                foretold = json.load(file)
        except (OSError, ValueError):
            row.update(status='failed', error='our-side')
            continue
        row.update(foretold=foretold, file='')
        transaction.on_commit(
            lambda name=name: default_storage.delete(name), using=database, robust=True
        )


class Migration(migrations.Migration):

    dependencies = [
        ('drives', '0009_people_by_id'),
    ]

    operations = [
        migrations.AddField(
            model_name='sheet',
            name='foretold',
            field=models.JSONField(null=True),
        ),
        migrations.RemoveConstraint(
            model_name='sheet',
            name='done_sheet_has_a_file',
        ),
        migrations.RunPython(take_over, migrations.RunPython.noop),
        migrations.AddConstraint(
            model_name='sheet',
            constraint=models.CheckConstraint(
                condition=~Q(status='done') | Q(finished_at__isnull=False) & (~Q(file='') | Q(foretold__isnull=False)),
                name='done_sheet_holds_what_was_made',
            ),
        ),
    ]
