"""Pieces are passed on at meetings where the drive says so; until now, where meetings were noted."""

from django.db import migrations, models
from django.utils import timezone


def as_until_now(apps, schema_editor):
    Drive = apps.get_model("drives", "Drive")
    meeting = Drive.objects.filter(mode="travelling", meetings__day__gte=timezone.localdate())
    ids = list(meeting.order_by("pk").values_list("pk", flat=True).distinct())
    Drive.objects.filter(pk__in=ids).update(passing="meet")


class Migration(migrations.Migration):

    dependencies = [
        ('accounts', '0011_currency'),
        ('drives', '0022_to_be_bought'),
    ]

    operations = [
        migrations.RemoveConstraint(
            model_name='drive',
            name='drive_passing_known',
        ),
        migrations.AddField(
            model_name='drive',
            name='meet_every',
            field=models.PositiveSmallIntegerField(blank=True, null=True, verbose_name='days from meeting to meeting'),
        ),
        migrations.AlterField(
            model_name='drive',
            name='passing',
            field=models.CharField(choices=[('after-each', 'after each square, if somebody else waits'), ('keep', 'stays until nothing more can be begun on it'), ('meet', 'when the circle meets')], db_default='after-each', default='after-each', max_length=10, verbose_name='when a piece is passed on'),
        ),
        migrations.AddConstraint(
            model_name='drive',
            constraint=models.CheckConstraint(condition=models.Q(('passing__in', ['after-each', 'keep', 'meet'])), name='drive_passing_known'),
        ),
        migrations.AddConstraint(
            model_name='drive',
            constraint=models.CheckConstraint(condition=models.Q(('meet_every', None), ('meet_every__range', (1, 365)), _connector='OR'), name='drive_meets_within_reason'),
        ),
        migrations.RunPython(as_until_now, migrations.RunPython.noop),
    ]
