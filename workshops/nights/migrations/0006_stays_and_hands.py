"""What a stay on the roll tells: a guessed end, who took a minor home, taps kept offline."""

import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
        ("places", "0001_initial"),
        ("people", "0005_merged_into"),
        ("nights", "0005_changes_of_the_board"),
    ]

    operations = [
        migrations.AddField(
            model_name="rollline",
            name="out_is_guessed",
            field=models.BooleanField(default=False),
        ),
        migrations.AddField(
            model_name="rollline",
            name="seen_at",
            field=models.DateTimeField(blank=True, editable=False, null=True),
        ),
        migrations.AddField(
            model_name="rollline",
            name="collected_by",
            field=models.ForeignKey(
                blank=True,
                help_text="who took a minor home",
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="collected",
                to="people.person",
            ),
        ),
        migrations.AddField(
            model_name="rollline",
            name="collected_word",
            field=models.CharField(
                blank=True, help_text="who took a minor home, when not on the list", max_length=80
            ),
        ),
        migrations.AddField(
            model_name="rollline",
            name="in_key",
            field=models.UUIDField(blank=True, editable=False, null=True),
        ),
        migrations.AddField(
            model_name="rollline",
            name="out_key",
            field=models.UUIDField(blank=True, editable=False, null=True),
        ),
        migrations.AddConstraint(
            model_name="rollline",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("out_is_guessed", False), ("out_at__isnull", False), _connector="OR"
                ),
                name="only_an_end_is_guessed",
            ),
        ),
        migrations.AddConstraint(
            model_name="rollline",
            constraint=models.UniqueConstraint(
                fields=("night", "in_key"), name="came_in_once_a_tap"
            ),
        ),
        migrations.CreateModel(
            name="AlarmHand",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("noted_at", models.DateTimeField(default=django.utils.timezone.now)),
                (
                    "noted_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "person",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="alarm_hand",
                        to="people.person",
                    ),
                ),
                (
                    "shop",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, to="places.shop"
                    ),
                ),
            ],
            options={"ordering": ["pk"]},
        ),
    ]
