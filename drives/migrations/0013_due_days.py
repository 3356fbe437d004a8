"""A square is due on a day, by its circle's clock: ``due_at`` becomes the last moment of the day
that its knitter was told. What letters are about goes by that day, too.
"""

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from django.db import migrations

AT_A_TIME = 1000


def due_days(apps, schema_editor):
    Circle = apps.get_model("accounts", "Circle")
    for zone in Circle.objects.order_by().values_list("time_zone", flat=True).distinct():
        _in_zone(apps, zone)


def _in_zone(apps, name):
    Claim = apps.get_model("drives", "Claim")
    zone = ZoneInfo(name)
    claims = Claim.objects.filter(square__blanket__drive__circle__time_zone=name).order_by("pk")
    last = 0
    while chunk := list(claims.filter(pk__gt=last).only("due_at", "ended_at")[:AT_A_TIME]):
        last = chunk[-1].pk
        for claim in chunk:
            before, day = claim.due_at, claim.due_at.astimezone(zone).date()
            next_day = datetime.combine(day + timedelta(days=1), time.min, zone).astimezone(UTC)
            claim.due_at = next_day - timedelta.resolution
            if claim.ended_at is None:
                _rename_letters(claim, f"{before:%Y-%m-%dT%H:%M:%S}", day.isoformat())
        Claim.objects.bulk_update(chunk, ["due_at"])


def _rename_letters(claim, before, day):
    letters = claim.letters.order_by().filter(about=f"{claim.pk} {before}")
    letters.update(about=f"{claim.pk} {day}")


class Migration(migrations.Migration):

    dependencies = [
        ('accounts', '0009_disabled_and_enabled'),
        ('drives', '0012_letters_have_leases'),
    ]

    operations = [
        migrations.RunPython(due_days, migrations.RunPython.noop),
    ]
