"""The kinds of sheets are listed where each is made, no longer here: no column changes."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('drives', '0004_one_schema'),
    ]

    operations = [
        migrations.AlterField(
            model_name='sheet',
            name='kind',
            field=models.CharField(max_length=10, verbose_name='kind'),
        ),
    ]
