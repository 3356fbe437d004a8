"""Squares on both sides of a seam lie side by side: they are of different colours, if so wished.

What was planned before stays as it was planned.
"""

from django.db import migrations, models


def as_it_was_planned(apps, schema_editor):
    Blanket = apps.get_model("drives", "Blanket")
    planned = Blanket.objects.filter(palette__isnull=False).exclude(seams=[])
    ids = list(planned.order_by("pk").values_list("pk", flat=True).distinct())
    Blanket.objects.filter(pk__in=ids).update(over_seams=False)


class Migration(migrations.Migration):

    dependencies = [
        ('drives', '0015_finer_gauge'),
    ]

    operations = [
        migrations.AddField(
            model_name='blanket',
            name='over_seams',
            field=models.BooleanField(db_default=True, default=True, verbose_name='nor two with a seam between them'),
        ),
        migrations.AlterField(
            model_name='blanket',
            name='apart',
            field=models.BooleanField(default=True, verbose_name='no two squares of one colour side by side'),
        ),
        migrations.RunPython(as_it_was_planned, migrations.RunPython.noop),
    ]
