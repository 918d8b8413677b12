import django.db.models.deletion
from django.db import migrations, models

import inventory.models.scope


class Migration(migrations.Migration):
    dependencies = [
        ("inventory", "0004_swatches_and_snippets"),
        ("sourcing", "0011_pickup_with_a_nest_check"),
    ]

    operations = [
        migrations.CreateModel(
            name="PutByWish",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("code", models.CharField(max_length=40)),
                ("dyestuff", models.CharField(blank=True, max_length=80)),
                ("state", models.CharField(blank=True, max_length=20)),
                ("runs", models.PositiveSmallIntegerField()),
                ("each_mg", models.PositiveBigIntegerField()),
                ("since", models.DateField()),
                ("last_on", models.DateField()),
                ("spread", models.CharField(default="monthly", max_length=10)),
                ("note", models.CharField(blank=True, max_length=500)),
                (
                    "recipe",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="sourcing.recipe",
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
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "code"), name="put_by_code_is_its_own"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="recipe", name="put_by_and_its_recipe_share_a_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("code", ""), _negated=True), name="put_by_has_a_code"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("recipe__isnull", True), models.Q(("dyestuff", ""), _negated=True)
                            ),
                            models.Q(("dyestuff", ""), ("recipe__isnull", False)),
                            _connector="OR",
                        ),
                        name="put_by_is_of_a_recipe_or_a_dyestuff",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("recipe__isnull", True), ("state", ""), _connector="OR"
                        ),
                        name="put_by_recipe_says_its_state",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("state__in", ["", "dried", "frozen"])),
                        name="put_by_in_a_state_that_keeps",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("runs__gte", 1), ("runs__lte", 100)),
                        name="put_by_runs_from_1_to_100",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("each_mg__gt", 0)), name="put_by_each_takes_something"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("since__lte", models.F("last_on"))),
                        name="put_by_begins_before_it_ends",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("spread__in", ["monthly", "evenly"])),
                        name="put_by_spread_is_known",
                    ),
                ],
            },
        ),
    ]
