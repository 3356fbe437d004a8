import django.db.models.deletion
import django.db.models.functions.text
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
    ]

    operations = [
        migrations.CreateModel(
            name='User',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('password', models.CharField(max_length=128, verbose_name='password')),
                ('last_login', models.DateTimeField(blank=True, null=True, verbose_name='last login')),
                ('email', models.EmailField(max_length=254, unique=True, verbose_name='e-mail address')),
                ('name', models.CharField(max_length=100, verbose_name='name')),
                ('is_active', models.BooleanField(default=True, verbose_name='may sign in')),
            ],
            options={
                'ordering': ['name', 'id'],
                'constraints': [models.CheckConstraint(condition=models.Q(('email', django.db.models.functions.text.Lower('email'))), name='email_in_lower_case')],
            },
        ),
        migrations.CreateModel(
            name='ApiToken',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=100, verbose_name='what it is for')),
                ('digest', models.CharField(max_length=64, unique=True)),
                ('prefix', models.CharField(max_length=12, verbose_name='begins with')),
                ('created_at', models.DateTimeField(verbose_name='made')),
                ('last_used_at', models.DateTimeField(blank=True, null=True, verbose_name='last used')),
                ('revoked_at', models.DateTimeField(blank=True, null=True, verbose_name='revoked')),
                ('user', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='api_tokens', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['-created_at', '-id'],
            },
        ),
        migrations.CreateModel(
            name='Circle',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=100, verbose_name='name')),
                ('language', models.CharField(default='en', max_length=10, verbose_name='language')),
                ('units', models.CharField(choices=[('cm', 'centimetres and grams'), ('in', 'inches, ounces and yards')], default='cm', max_length=2, verbose_name='units')),
                ('english', models.CharField(choices=[('british', 'British (mitred, tension, cast off)'), ('american', 'American (mitered, gauge, bind off)')], default='british', max_length=8, verbose_name='English')),
                ('time_zone', models.CharField(default='Europe/London', max_length=64, verbose_name='time zone')),
                ('created_at', models.DateTimeField(verbose_name='made')),
            ],
            options={
                'ordering': ['name', 'id'],
                'constraints': [models.CheckConstraint(condition=models.Q(('units__in', ['cm', 'in'])), name='circle_units_known'), models.CheckConstraint(condition=models.Q(('english__in', ['british', 'american'])), name='circle_english_known')],
            },
        ),
        migrations.CreateModel(
            name='Member',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('is_organiser', models.BooleanField(default=False, verbose_name='organiser')),
                ('is_coordinator', models.BooleanField(default=False, verbose_name='coordinator')),
                ('is_volunteer', models.BooleanField(default=False, verbose_name='volunteer')),
                ('name', models.CharField(max_length=100, verbose_name='name')),
                ('note', models.CharField(blank=True, max_length=200, verbose_name='how to reach them')),
                ('hand', models.CharField(choices=[('right', 'right-handed'), ('left', 'left-handed')], default='right', max_length=5, verbose_name='hand')),
                ('joined_at', models.DateTimeField(verbose_name='joined')),
                ('left_at', models.DateTimeField(blank=True, null=True, verbose_name='left')),
                ('circle', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='members', to='accounts.circle')),
                ('user', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='memberships', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['name', 'id'],
            },
        ),
        migrations.CreateModel(
            name='Invitation',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('is_organiser', models.BooleanField(default=False, verbose_name='organiser')),
                ('is_coordinator', models.BooleanField(default=False, verbose_name='coordinator')),
                ('is_volunteer', models.BooleanField(default=False, verbose_name='volunteer')),
                ('email', models.EmailField(blank=True, max_length=254, verbose_name='e-mail address')),
                ('digest', models.CharField(max_length=64, unique=True)),
                ('created_at', models.DateTimeField(verbose_name='made')),
                ('expires_at', models.DateTimeField(verbose_name='expires')),
                ('mailed_at', models.DateTimeField(blank=True, null=True, verbose_name='e-mailed')),
                ('revoked_at', models.DateTimeField(blank=True, null=True, verbose_name='revoked')),
                ('accepted_at', models.DateTimeField(blank=True, null=True, verbose_name='accepted')),
                ('circle', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='invitations', to='accounts.circle')),
                ('invited_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='invited', to='accounts.member')),
                ('member', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='invitations', to='accounts.member')),
            ],
            options={
                'ordering': ['-created_at', '-id'],
            },
        ),
        migrations.CreateModel(
            name='Event',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('verb', models.SlugField(verbose_name='verb')),
                ('topic', models.CharField(choices=[('circle', 'circle'), ('drive', 'drive'), ('blanket', 'blanket')], max_length=8)),
                ('topic_id', models.BigIntegerField()),
                ('facts', models.JSONField(default=dict)),
                ('at', models.DateTimeField(verbose_name='when')),
                ('circle', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='events', to='accounts.circle')),
                ('by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.PROTECT, related_name='events', to='accounts.member')),
            ],
            options={
                'ordering': ['-id'],
            },
        ),
        migrations.CreateModel(
            name='IdempotentCall',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('key', models.CharField(max_length=255)),
                ('fingerprint', models.CharField(max_length=64)),
                ('status', models.PositiveSmallIntegerField(null=True)),
                ('body', models.JSONField(null=True)),
                ('created_at', models.DateTimeField()),
                ('user', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'constraints': [models.UniqueConstraint(fields=('user', 'key'), name='one_call_per_user_and_key')],
            },
        ),
        migrations.AddConstraint(
            model_name='member',
            constraint=models.UniqueConstraint(fields=('circle', 'user'), name='one_membership_per_user_and_circle'),
        ),
        migrations.AddConstraint(
            model_name='member',
            constraint=models.CheckConstraint(condition=models.Q(('hand__in', ['right', 'left'])), name='member_hand_known'),
        ),
        migrations.AddConstraint(
            model_name='member',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('left_at', None), models.Q(('is_organiser', True), ('is_coordinator', True), ('is_volunteer', True), _connector='OR')), models.Q(('left_at__isnull', False), models.Q(('is_organiser', True), ('is_coordinator', True), ('is_volunteer', True), _connector='OR', _negated=True)), _connector='OR'), name='member_has_a_role_until_they_leave'),
        ),
        migrations.AddConstraint(
            model_name='member',
            constraint=models.CheckConstraint(condition=models.Q(('user__isnull', False), models.Q(('is_coordinator', False), ('is_organiser', False)), _connector='OR'), name='paper_member_only_knits'),
        ),
        migrations.AddConstraint(
            model_name='invitation',
            constraint=models.CheckConstraint(condition=models.Q(('is_organiser', True), ('is_coordinator', True), ('is_volunteer', True), _connector='OR'), name='invitation_gives_a_role'),
        ),
        migrations.AddConstraint(
            model_name='invitation',
            constraint=models.CheckConstraint(condition=models.Q(('expires_at__gt', models.F('created_at'))), name='invitation_expires_after_it_is_made'),
        ),
        migrations.AddConstraint(
            model_name='invitation',
            constraint=models.CheckConstraint(condition=models.Q(('accepted_at', None), models.Q(('email', ''), _negated=True), ('member__isnull', False), _connector='OR'), name='only_personal_invitations_are_used_up'),
        ),
        migrations.AddIndex(
            model_name='event',
            index=models.Index(fields=['topic', 'topic_id', '-id'], name='events_by_topic'),
        ),
        migrations.AddConstraint(
            model_name='event',
            constraint=models.CheckConstraint(condition=models.Q(('topic__in', ['circle', 'drive', 'blanket'])), name='event_topic_known'),
        ),
    ]
