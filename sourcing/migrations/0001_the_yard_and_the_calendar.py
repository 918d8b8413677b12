import django.db.models.deletion
from django.db import migrations, models

import inventory.models.fields
import inventory.models.scope
from inventory.models.at_once import AtOnce


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("inventory", "0001_the_shelves_and_the_ledger"),
    ]

    operations = [
        migrations.CreateModel(
            name="Source",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                ("name", models.CharField(max_length=80)),
                ("kind", models.CharField(blank=True, max_length=80)),
                ("place", models.CharField(blank=True, max_length=80)),
                ("carrying_note", models.CharField(blank=True, max_length=500)),
                ("note", models.CharField(blank=True, max_length=500)),
            ],
            options={
                "ordering": ("name",),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "name"), name="source_name_is_its_own"
                    ),
                    models.UniqueConstraint(
                        fields=("studio", "id"), name="source_key_in_its_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("name", ""), _negated=True), name="source_has_a_name"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Agreement",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                (
                    "source",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="sourcing.source",
                    ),
                ),
                ("gives", models.CharField(max_length=80)),
                ("days", models.JSONField(default=list)),
                ("at", models.TimeField()),
                ("since", models.DateField(blank=True, null=True)),
                ("last_on", models.DateField(blank=True, null=True)),
                ("closed", models.JSONField(default=list)),
                ("permission_by", models.CharField(blank=True, max_length=80)),
                ("permission_on", models.DateField(blank=True, null=True)),
                ("hands_min", models.PositiveIntegerField(default=0)),
                ("likely_mg", models.PositiveBigIntegerField(blank=True, null=True)),
                ("likely_pieces", models.PositiveIntegerField(blank=True, null=True)),
                ("note", models.CharField(blank=True, max_length=500)),
            ],
            options={
                "ordering": ("source", "gives"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "source", "gives"), name="agreement_once_for_a_thing"
                    ),
                    models.UniqueConstraint(
                        fields=("studio", "id"), name="agreement_key_in_its_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False,
                        field="source",
                        name="agreement_and_its_source_share_a_studio",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("gives", ""), _negated=True),
                        name="agreement_says_what_it_gives",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("since__isnull", True),
                            ("last_on__isnull", True),
                            ("since__lte", models.F("last_on")),
                            _connector="OR",
                        ),
                        name="agreement_opens_before_it_closes",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="PickUp",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                (
                    "source",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="sourcing.source",
                    ),
                ),
                ("gives", models.CharField(max_length=80)),
                ("at", models.DateTimeField()),
                ("how", models.CharField(max_length=10)),
                ("weight_mg", models.PositiveBigIntegerField(blank=True, null=True)),
                ("pieces", models.PositiveIntegerField(blank=True, null=True)),
                ("lot_code", models.CharField(blank=True, max_length=40)),
                ("place", models.CharField(blank=True, max_length=40)),
                ("place_kind", models.CharField(blank=True, max_length=20)),
                ("state", models.CharField(default="fresh", max_length=20)),
                (
                    "posting",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
                    ),
                ),
                ("note", models.CharField(blank=True, max_length=500)),
            ],
            options={
                "ordering": ("at", "id"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "source", "gives", "at"), name="pickup_once_at_a_moment"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="source", name="pickup_and_its_source_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False,
                        field="posting",
                        name="pickup_and_its_posting_share_a_studio",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("how__in", ["reported", "made", "missed"])),
                        name="pickup_of_a_known_kind",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("how", "missed"),
                                ("pieces__isnull", True),
                                ("weight_mg__isnull", True),
                            ),
                            models.Q(
                                models.Q(("how", "missed"), _negated=True),
                                models.Q(
                                    ("weight_mg__isnull", False),
                                    ("pieces__isnull", False),
                                    _connector="OR",
                                ),
                            ),
                            _connector="OR",
                        ),
                        name="pickup_has_an_amount_unless_missed",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Recipe",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                ("code", models.CharField(max_length=40)),
                ("version", models.PositiveIntegerField(default=1)),
                ("body_sha256", models.CharField(max_length=64)),
                ("shade", models.CharField(max_length=80)),
                ("fibres", models.JSONField(default=list)),
                ("l_per_kg", inventory.models.fields.FractionText(max_length=60)),
                ("mordant", models.CharField(blank=True, max_length=80)),
                (
                    "mordant_percent",
                    inventory.models.fields.DecimalText(default="0", max_length=40),
                ),
                ("bright", models.BooleanField()),
                ("needs_scoured", models.BooleanField(default=True)),
                ("match", models.CharField(default="blend", max_length=10)),
                ("water", models.CharField(blank=True, max_length=80)),
                (
                    "ph_low",
                    inventory.models.fields.DecimalText(blank=True, max_length=40, null=True),
                ),
                (
                    "ph_high",
                    inventory.models.fields.DecimalText(blank=True, max_length=40, null=True),
                ),
                ("fugitive", models.BooleanField(default=False)),
                ("depth", models.PositiveSmallIntegerField(default=3)),
            ],
            options={
                "ordering": ("code", "version"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "code", "version"), name="recipe_version_is_its_own"
                    ),
                    models.UniqueConstraint(
                        fields=("studio", "id"), name="recipe_key_in_its_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("version__gte", 1)), name="recipe_version_from_1"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("match__in", ["blend", "lot"])),
                        name="recipe_match_blend_or_lot",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("depth__gte", 1), ("depth__lte", 5)),
                        name="recipe_depth_from_1_to_5",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="RecipeStep",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                (
                    "recipe",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="sourcing.recipe",
                    ),
                ),
                ("number", models.PositiveSmallIntegerField()),
                ("name", models.CharField(max_length=80)),
                ("kind", models.CharField(max_length=20)),
                ("vessels", models.JSONField(default=list)),
                (
                    "l_per_kg",
                    inventory.models.fields.FractionText(blank=True, max_length=60, null=True),
                ),
                ("heats", models.JSONField(default=list)),
                ("stand_min", models.PositiveIntegerField(default=0)),
                ("stand_max", models.PositiveIntegerField(blank=True, null=True)),
                ("night", models.BooleanField(default=False)),
                ("cool_min", models.PositiveIntegerField(default=0)),
                ("hands_min", models.PositiveIntegerField(default=0)),
                ("hands_per", models.CharField(default="load", max_length=10)),
                ("at_once", models.BooleanField(default=False)),
                ("strain", models.BooleanField(default=False)),
                ("strained_c", models.SmallIntegerField(blank=True, null=True)),
                ("from_time", models.TimeField(blank=True, null=True)),
                ("one_lot", models.BooleanField(default=False)),
                ("aired", models.BooleanField(default=False)),
                ("metal", models.CharField(blank=True, max_length=20)),
            ],
            options={
                "ordering": ("recipe", "number"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("recipe", "number"), name="step_number_is_its_own"
                    ),
                    models.UniqueConstraint(fields=("recipe", "name"), name="step_name_is_its_own"),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="recipe", name="step_and_its_recipe_share_a_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("stand_max__isnull", True),
                            ("stand_max__gte", models.F("stand_min")),
                            _connector="OR",
                        ),
                        name="step_stands_at_most_no_less_than_at_least",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("hands_per__in", ["load", "run", "kg", "dye load"])),
                        name="step_hands_per_a_known_thing",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="RecipeDose",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                (
                    "recipe",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="sourcing.recipe",
                    ),
                ),
                ("number", models.PositiveSmallIntegerField()),
                ("step", models.CharField(max_length=80)),
                ("what", models.CharField(max_length=80)),
                ("kind", models.CharField(max_length=10)),
                ("per_fibre", inventory.models.fields.FractionText(default="0", max_length=60)),
                ("ml_per_100g", inventory.models.fields.FractionText(default="0", max_length=60)),
                ("l_per_kg", inventory.models.fields.FractionText(default="0", max_length=60)),
                ("state", models.CharField(blank=True, max_length=20)),
            ],
            options={
                "ordering": ("recipe", "number"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("recipe", "number"), name="dose_number_is_its_own"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="recipe", name="dose_and_its_recipe_share_a_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("kind__in", ["dyestuff", "supply", "liquor", "bath"])),
                        name="dose_of_a_known_kind",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Making",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                ("bath", models.CharField(max_length=80)),
                ("dyestuff", models.CharField(max_length=80)),
                ("state", models.CharField(max_length=20)),
                ("g_per_litre", inventory.models.fields.DecimalText(max_length=40)),
                ("heats", models.JSONField(default=list)),
                ("hands_min", models.PositiveIntegerField()),
                ("vessels", models.JSONField(default=list)),
            ],
            options={
                "ordering": ("bath",),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "bath"), name="making_once_for_a_bath"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("bath", models.F("dyestuff")), _negated=True),
                        name="making_is_not_made_of_itself",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Hours",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                ("who", models.CharField(max_length=80)),
                ("weekday", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("day", models.DateField(blank=True, null=True)),
                ("hands_min", models.PositiveIntegerField()),
                ("opens", models.TimeField(blank=True, null=True)),
                ("closes", models.TimeField(blank=True, null=True)),
                ("since", models.DateField(blank=True, null=True)),
                ("last_on", models.DateField(blank=True, null=True)),
                (
                    "site",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.site",
                    ),
                ),
                ("note", models.CharField(blank=True, max_length=500)),
            ],
            options={
                "ordering": ("who", "day", "weekday", "since", "id"),
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False, field="site", name="hours_and_their_site_share_a_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("day__isnull", False), ("weekday__isnull", True)),
                            models.Q(("day__isnull", True), ("weekday__isnull", False)),
                            _connector="OR",
                        ),
                        name="hours_of_a_weekday_or_a_day",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("weekday__isnull", True), ("weekday__lte", 6), _connector="OR"
                        ),
                        name="hours_weekday_to_6",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("hands_min", 0),
                            models.Q(("hands_min__lte", 1440), ("opens__lt", models.F("closes"))),
                            _connector="OR",
                        ),
                        name="hours_open_before_they_close",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Block",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                ("code", models.CharField(max_length=40)),
                ("what", models.CharField(max_length=80)),
                ("since", models.DateTimeField()),
                ("until", models.DateTimeField()),
                ("rings", models.JSONField(default=list)),
                ("vessels", models.JSONField(default=list)),
                ("line_mg", models.PositiveBigIntegerField(default=0)),
                ("hands_min", models.PositiveIntegerField(default=0)),
                ("no_iron", models.BooleanField(default=False)),
                ("group", models.BooleanField(default=False)),
            ],
            options={
                "ordering": ("since", "code"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "code"), name="block_code_is_its_own"
                    ),
                    models.UniqueConstraint(
                        fields=("studio", "id"), name="block_key_in_its_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("since__lt", models.F("until"))),
                        name="block_begins_before_it_ends",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Chore",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                ("day", models.DateField()),
                ("what", models.CharField(max_length=80)),
                ("hands_min", models.PositiveIntegerField()),
                ("clears", models.CharField(blank=True, max_length=40)),
                ("at", models.DateTimeField(blank=True, null=True)),
            ],
            options={
                "ordering": ("day", "what"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "day", "what"), name="chore_once_a_day"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="Weather",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                ("day", models.DateField()),
                ("frost", models.BooleanField(default=False)),
                ("aired", models.BooleanField(default=True)),
            ],
            options={
                "ordering": ("day",),
                "constraints": [
                    models.UniqueConstraint(fields=("studio", "day"), name="weather_once_a_day")
                ],
            },
        ),
        migrations.CreateModel(
            name="Hanging",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                ("line", models.CharField(max_length=40)),
                ("since", models.DateTimeField()),
                ("until", models.DateTimeField()),
                ("weight_mg", models.PositiveBigIntegerField()),
                ("what", models.CharField(blank=True, max_length=80)),
            ],
            options={
                "ordering": ("since", "line", "id"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "line", "since", "what"), name="hanging_once_at_a_moment"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("since__lt", models.F("until"))),
                        name="hanging_up_before_it_is_down",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Run",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                ("code", models.CharField(max_length=40)),
                (
                    "recipe",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="sourcing.recipe",
                    ),
                ),
                ("fibre", models.CharField(max_length=20)),
                ("weight_mg", models.PositiveBigIntegerField()),
                (
                    "fibre_lot",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.lot",
                    ),
                ),
                ("due", models.DateTimeField(blank=True, null=True)),
                (
                    "jar",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.lot",
                    ),
                ),
                ("for_whom", models.CharField(blank=True, max_length=80)),
                ("client", models.BooleanField(default=True)),
                (
                    "group_block",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="sourcing.block",
                    ),
                ),
                ("people", models.PositiveIntegerField(default=0)),
                ("begun", models.BooleanField(default=False)),
                ("fibre_needed_by", models.DateField(blank=True, null=True)),
                ("finished_at", models.DateTimeField(blank=True, null=True)),
                (
                    "posting",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
                    ),
                ),
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(fields=("studio", "code"), name="run_code_is_its_own"),
                    models.UniqueConstraint(fields=("studio", "id"), name="run_key_in_its_studio"),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="recipe", name="run_and_its_recipe_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="fibre_lot", name="run_and_its_fibre_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="jar", name="run_and_its_jar_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False,
                        field="group_block",
                        name="run_and_its_group_day_share_a_studio",
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="posting", name="run_and_its_posting_share_a_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("weight_mg__gt", 0)), name="run_dyes_something"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ShadeCard",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                (
                    "run",
                    models.OneToOneField(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        to="sourcing.run",
                    ),
                ),
                ("approved", models.BooleanField()),
            ],
            options={
                "ordering": ("run",),
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False, field="run", name="shade_card_and_its_run_share_a_studio"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="FastnessWish",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                (
                    "run",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="sourcing.run",
                    ),
                ),
                ("what", models.CharField(max_length=10)),
                ("wanted", inventory.models.fields.DecimalText(max_length=40)),
                (
                    "reading",
                    inventory.models.fields.DecimalText(blank=True, max_length=40, null=True),
                ),
                ("begun_on", models.DateField(blank=True, null=True)),
                ("days", models.PositiveIntegerField(default=0)),
                ("accepted_in_writing", models.BooleanField(default=False)),
            ],
            options={
                "ordering": ("run", "what"),
                "constraints": [
                    models.UniqueConstraint(fields=("run", "what"), name="wish_once_for_a_reading"),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="run", name="wish_and_its_run_share_a_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("what__in", ["light", "wash", "rub"])),
                        name="wish_of_a_known_kind",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Claim",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
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
                (
                    "run",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="sourcing.run",
                    ),
                ),
                (
                    "lot",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.lot",
                    ),
                ),
                ("amount", models.PositiveBigIntegerField()),
                ("step", models.CharField(blank=True, max_length=80)),
                ("made_at", models.DateTimeField()),
                ("released_at", models.DateTimeField(blank=True, null=True)),
                ("entry", models.UUIDField()),
            ],
            options={
                "ordering": ("made_at", "id"),
                "constraints": [
                    models.UniqueConstraint(fields=("studio", "entry"), name="claim_entered_once"),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="run", name="claim_and_its_run_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="lot", name="claim_and_its_lot_share_a_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("amount__gt", 0)), name="claim_is_of_something"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("released_at__isnull", True),
                            ("released_at__gte", models.F("made_at")),
                            _connector="OR",
                        ),
                        name="claim_released_after_it_was_made",
                    ),
                ],
            },
        ),
    ]
    operations = [AtOnce(operations)]
