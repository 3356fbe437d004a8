"""An invitation is taken before it is e-mailed, so that it is e-mailed once at most."""

from django.db import migrations, models
from django.db.models import F, Q


def what_was_mailed_was_taken(apps, schema_editor):
    invitations = apps.get_model("accounts", "Invitation").objects
    invitations.filter(mailed_at__isnull=False).update(mail_taken_at=F("mailed_at"))


class Migration(migrations.Migration):
    dependencies = [("accounts", "0002_paper")]

    operations = [
        migrations.AddField(
            model_name="invitation",
            name="mail_taken_at",
            field=models.DateTimeField(blank=True, null=True),
        ),
        migrations.RunPython(what_was_mailed_was_taken, migrations.RunPython.noop),
        migrations.AddConstraint(
            model_name="invitation",
            constraint=models.CheckConstraint(
                condition=Q(mailed_at=None)
                | Q(mail_taken_at__isnull=False, mailed_at__gte=F("mail_taken_at")),
                name="invitation_taken_before_it_is_mailed",
            ),
        ),
    ]
