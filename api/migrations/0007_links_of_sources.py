import django.db.models.deletion
from django.db import migrations, models

import inventory.models.scope
from inventory.models.at_once import AtOnce


class Migration(migrations.Migration):
    dependencies = [
        ("api", "0006_invitations"),
        ("inventory", "0004_swatches_and_snippets"),
        ("sourcing", "0013_tubs_at_a_source"),
    ]

    operations = [
        migrations.CreateModel(
            name="SourceLink",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("mark", models.CharField(max_length=16)),
                ("digest", models.CharField(max_length=64)),
                ("asks", models.CharField(blank=True, max_length=40)),
                ("wish", models.CharField(blank=True, max_length=200)),
                ("made_by", models.CharField(blank=True, max_length=80)),
                ("made_at", models.DateTimeField()),
                ("expires_at", models.DateTimeField()),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
                ("uses", models.PositiveIntegerField(default=0)),
                ("last_used_at", models.DateTimeField(blank=True, null=True)),
                (
                    "source",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="sourcing.source",
                    ),
                ),
                (
                    "studio",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.studio",
                    ),
                ),
            ],
            options={
                "ordering": ("-made_at", "-id"),
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False,
                        field="source",
                        name="source_link_and_its_source_share_a_studio",
                    ),
                    models.UniqueConstraint(
                        fields=("digest",), name="source_link_digest_is_its_own"
                    ),
                    models.UniqueConstraint(fields=("mark",), name="source_link_mark_is_its_own"),
                    models.UniqueConstraint(
                        fields=("studio", "id"), name="source_link_key_in_its_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("expires_at__gt", models.F("made_at"))),
                        name="source_link_good_for_some_time",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="SourceWord",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("entry", models.UUIDField()),
                ("gives", models.CharField(max_length=80)),
                ("due_at", models.DateTimeField()),
                ("amount", models.CharField(blank=True, max_length=80)),
                ("word", models.CharField(blank=True, max_length=200)),
                ("said_at", models.DateTimeField()),
                (
                    "link",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="api.sourcelink",
                    ),
                ),
                (
                    "studio",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.studio",
                    ),
                ),
            ],
            options={
                "ordering": ("-said_at", "-id"),
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False,
                        field="link",
                        name="source_word_and_its_link_share_a_studio",
                    ),
                    models.UniqueConstraint(
                        fields=("studio", "entry"), name="source_word_entered_once"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("gives", ""), _negated=True),
                        name="source_word_is_of_something",
                    ),
                ],
            },
        ),
    ]
    operations = [AtOnce(operations)]
