import uuid

import django.db.models.deletion
import django.db.models.expressions
import django.db.models.functions.datetime
from django.db import migrations, models

import inventory.models.fields
import inventory.models.scope
from inventory.models.at_once import AtOnce


class Migration(migrations.Migration):
    initial = True

    dependencies = []

    operations = [
        migrations.CreateModel(
            name="Studio",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=120)),
                ("zone", models.CharField(max_length=64)),
                ("country", models.CharField(blank=True, max_length=2)),
                ("region", models.CharField(blank=True, max_length=80)),
                ("currency", models.CharField(default="GBP", max_length=3)),
                (
                    "shed_c",
                    inventory.models.fields.DecimalText(blank=True, max_length=40, null=True),
                ),
            ],
            options={
                "ordering": ("name",),
                "constraints": [
                    models.UniqueConstraint(fields=("name",), name="studio_name_is_its_own"),
                    models.CheckConstraint(
                        condition=models.Q(("name", ""), _negated=True), name="studio_has_a_name"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("zone", ""), _negated=True),
                        name="studio_has_a_time_zone",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Site",
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
                ("name", models.CharField(blank=True, max_length=120)),
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(fields=("studio", "code"), name="site_code_is_its_own"),
                    models.UniqueConstraint(fields=("studio", "id"), name="site_key_in_its_studio"),
                ],
            },
        ),
        migrations.CreateModel(
            name="Water",
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
                ("ph", inventory.models.fields.DecimalText(blank=True, max_length=40, null=True)),
                ("temperature_c", models.IntegerField()),
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
            ],
            options={
                "ordering": ("name",),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "name"), name="water_name_is_its_own"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="site", name="water_and_its_site_share_a_studio"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="StudioRule",
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
                ("item", models.CharField(max_length=80)),
                ("name", models.CharField(max_length=80)),
                ("value", inventory.models.fields.DecimalText(max_length=40)),
                ("low", inventory.models.fields.DecimalText(blank=True, max_length=40, null=True)),
                ("high", inventory.models.fields.DecimalText(blank=True, max_length=40, null=True)),
                ("since", models.DateField(blank=True, null=True)),
                ("basis", models.CharField(default="measured here", max_length=40)),
                ("source", models.CharField(blank=True, max_length=200)),
                ("note", models.CharField(blank=True, max_length=400)),
            ],
            options={
                "ordering": ("item", "name", "since"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "item", "name", "since"), name="studio_rule_once_a_day"
                    ),
                    models.UniqueConstraint(
                        condition=models.Q(("since__isnull", True)),
                        fields=("studio", "item", "name"),
                        name="studio_rule_undated_once",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Dyestuff",
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
                ("piece", models.CharField(blank=True, max_length=40)),
                ("pieces", models.CharField(blank=True, max_length=40)),
                ("foraged", models.BooleanField(default=False)),
                ("fugitive", models.BooleanField(default=False)),
                ("hazard", models.CharField(blank=True, max_length=200)),
                ("note", models.CharField(blank=True, max_length=400)),
            ],
            options={
                "ordering": ("name",),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "name"), name="dyestuff_name_is_its_own"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="Posting",
            fields=[
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
                    "id",
                    models.UUIDField(
                        default=uuid.uuid4, editable=False, primary_key=True, serialize=False
                    ),
                ),
                ("entry", models.UUIDField()),
                ("body_sha256", models.CharField(max_length=64)),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("receive", "Receive"),
                            ("draw", "Draw"),
                            ("put by", "Put By"),
                            ("weigh again", "Weigh"),
                            ("recount", "Recount"),
                            ("correct", "Correct"),
                            ("dye", "Dye"),
                            ("scour", "Scour"),
                            ("mordant", "Mordant"),
                            ("tip out", "Tip Out"),
                            ("begin", "Begin"),
                            ("dip", "Dip"),
                            ("top up", "Top Up"),
                            ("strain", "Strain"),
                            ("keep at", "Keep At"),
                            ("evaporate", "Evaporate"),
                            ("make bath", "Make Bath"),
                            ("use bath", "Use Bath"),
                            ("set aside", "Set Aside"),
                            ("use again", "Use Again"),
                            ("label", "Label"),
                            ("judge", "Judge"),
                            ("arrive", "Arrive"),
                            ("check nest", "Check Nest"),
                            ("iron", "Iron"),
                            ("clear", "Clear"),
                            ("chip", "Chip"),
                        ],
                        max_length=20,
                    ),
                ),
                ("occurred_at", models.DateTimeField()),
                (
                    "recorded_at",
                    models.DateTimeField(
                        db_default=django.db.models.functions.datetime.Now(), editable=False
                    ),
                ),
                (
                    "corrects",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        db_index=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
                    ),
                ),
                ("undoes", models.BooleanField(default=False)),
                ("where_to", models.CharField(blank=True, max_length=200)),
                ("by_whom", models.CharField(blank=True, max_length=120)),
                ("note", models.CharField(blank=True, max_length=400)),
            ],
            options={
                "ordering": ("recorded_at", "id"),
                "indexes": [
                    models.Index(
                        fields=["studio", "occurred_at"], name="posting_by_when_it_happened"
                    ),
                    models.Index(
                        condition=models.Q(("kind", "correct")),
                        fields=["studio"],
                        name="posting_that_corrects",
                    ),
                ],
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "entry"), name="posting_entered_once"
                    ),
                    models.UniqueConstraint(
                        fields=("studio", "id"), name="posting_key_in_its_studio"
                    ),
                    models.UniqueConstraint(
                        fields=("corrects",), name="posting_corrected_at_most_once"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="corrects", name="posting_corrects_one_of_its_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("kind", "correct"), ("corrects__isnull", False)),
                            models.Q(
                                models.Q(("kind", "correct"), _negated=True),
                                ("corrects__isnull", True),
                            ),
                            _connector="OR",
                        ),
                        name="posting_names_what_it_corrects",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("undoes", False), ("kind", "correct"), _connector="OR"),
                        name="posting_undoes_only_as_a_correction",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("kind", "tip out"), _negated=True),
                            models.Q(("where_to", ""), _negated=True),
                            _connector="OR",
                        ),
                        name="posting_tipped_out_says_where_to",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "kind__in",
                                [
                                    "receive",
                                    "draw",
                                    "put by",
                                    "weigh again",
                                    "recount",
                                    "correct",
                                    "dye",
                                    "scour",
                                    "mordant",
                                    "tip out",
                                    "begin",
                                    "dip",
                                    "top up",
                                    "strain",
                                    "keep at",
                                    "evaporate",
                                    "make bath",
                                    "use bath",
                                    "set aside",
                                    "use again",
                                    "label",
                                    "judge",
                                    "arrive",
                                    "check nest",
                                    "iron",
                                    "clear",
                                    "chip",
                                ],
                            )
                        ),
                        name="posting_of_a_known_kind",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Lot",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
                    ),
                ),
                ("code", models.CharField(max_length=40)),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("dyestuff", "Dyestuff"),
                            ("supply", "Supply"),
                            ("jar", "Jar"),
                            ("bath", "Bath"),
                            ("fibre", "Fibre"),
                        ],
                        max_length=10,
                    ),
                ),
                ("unit", models.CharField(max_length=2)),
                ("what", models.CharField(max_length=80)),
                (
                    "parent",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        db_index=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.lot",
                    ),
                ),
                (
                    "site",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        db_index=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.site",
                    ),
                ),
                ("source", models.CharField(blank=True, max_length=120)),
                ("gathered_on", models.DateField(blank=True, null=True)),
                ("permission", models.CharField(blank=True, max_length=200)),
                ("foraged", models.BooleanField(default=False)),
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(fields=("studio", "code"), name="lot_code_is_its_own"),
                    models.UniqueConstraint(fields=("studio", "id"), name="lot_key_in_its_studio"),
                    inventory.models.scope.SameStudio(
                        deferred=True, field="posting", name="lot_and_its_posting_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="parent", name="lot_and_its_parent_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="site", name="lot_and_its_site_share_a_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("kind__in", ["jar", "bath"]), ("unit", "µL")),
                            models.Q(("kind__in", ["dyestuff", "supply", "fibre"]), ("unit", "mg")),
                            _connector="OR",
                        ),
                        name="lot_unit_fits_its_kind",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("code", ""), _negated=True), name="lot_has_a_code"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("what", ""), _negated=True), name="lot_says_what_it_is"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("parent__isnull", True),
                            models.Q(("parent", models.F("id")), _negated=True),
                            _connector="OR",
                        ),
                        name="lot_is_not_its_own_parent",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Movement",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
                    ),
                ),
                (
                    "lot",
                    models.ForeignKey(
                        db_constraint=False,
                        db_index=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.lot",
                    ),
                ),
                ("number", models.PositiveIntegerField()),
                ("follows", models.PositiveIntegerField(blank=True, null=True)),
                ("amount", models.BigIntegerField()),
                ("left_before", models.BigIntegerField()),
                ("left_after", models.BigIntegerField()),
                ("turns", models.BooleanField(default=False)),
                ("counted", models.BigIntegerField(blank=True, null=True)),
                ("words", models.CharField(blank=True, max_length=200)),
                ("container", models.CharField(blank=True, max_length=80)),
                ("gross", models.BigIntegerField(blank=True, null=True)),
                ("tare", models.BigIntegerField(blank=True, null=True)),
                ("pieces", models.PositiveBigIntegerField(blank=True, null=True)),
                ("piece_mg", models.PositiveBigIntegerField(blank=True, null=True)),
                ("metal_mg_per_l", models.PositiveIntegerField(blank=True, null=True)),
            ],
            options={
                "ordering": ("lot", "number"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("lot", "number"), name="movement_number_once_a_lot"
                    ),
                    models.UniqueConstraint(
                        fields=("lot", "number", "left_after"), name="movement_can_be_followed"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="lot", name="movement_and_its_lot_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True,
                        field="posting",
                        name="movement_and_its_posting_share_a_studio",
                    ),
                    inventory.models.scope.TableRule(
                        clause="FOREIGN KEY (lot_id, follows, left_before) "
                        "REFERENCES {table} (lot_id, number, left_after)",
                        name="movement_begins_where_the_last_one_left",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("follows__isnull", True), ("left_before", 0), ("number", 1)),
                            models.Q(
                                (
                                    "follows",
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("number"), "-", models.Value(1)
                                    ),
                                ),
                                ("follows__isnull", False),
                                ("number__gt", 1),
                            ),
                            _connector="OR",
                        ),
                        name="movement_follows_the_one_before",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "left_after",
                                django.db.models.expressions.CombinedExpression(
                                    models.F("left_before"), "+", models.F("amount")
                                ),
                            )
                        ),
                        name="movement_adds_up",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("left_after__gte", 0)),
                        name="movement_leaves_no_less_than_nothing",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("counted__isnull", True),
                            ("counted", models.F("left_after")),
                            _connector="OR",
                        ),
                        name="movement_counted_is_what_is_left",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("gross__isnull", True), ("tare__isnull", True)),
                            models.Q(
                                ("gross__isnull", False),
                                ("tare__gte", 0),
                                ("tare__isnull", False),
                                models.Q(
                                    (
                                        "amount",
                                        django.db.models.expressions.CombinedExpression(
                                            models.F("gross"), "-", models.F("tare")
                                        ),
                                    ),
                                    (
                                        "amount",
                                        django.db.models.expressions.CombinedExpression(
                                            models.F("tare"), "-", models.F("gross")
                                        ),
                                    ),
                                    (
                                        "left_after",
                                        django.db.models.expressions.CombinedExpression(
                                            models.F("gross"), "-", models.F("tare")
                                        ),
                                    ),
                                    _connector="OR",
                                ),
                            ),
                            _connector="OR",
                        ),
                        name="movement_gross_less_tare_is_its_amount",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("piece_mg__isnull", True), ("pieces__isnull", True)),
                            models.Q(
                                (
                                    "amount",
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("pieces"), "*", models.F("piece_mg")
                                    ),
                                ),
                                ("piece_mg__isnull", False),
                                ("pieces__isnull", False),
                            ),
                            _connector="OR",
                        ),
                        name="movement_pieces_make_its_amount",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Loss",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
                    ),
                ),
                ("material", models.CharField(max_length=80)),
                ("amount", models.BigIntegerField()),
                ("reason", models.CharField(blank=True, max_length=200)),
            ],
            options={
                "ordering": ("id",),
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=True, field="posting", name="loss_and_its_posting_share_a_studio"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="PieceWeighing",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
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
                ("what", models.CharField(max_length=80)),
                ("pieces", models.PositiveIntegerField()),
                ("weight_mg", models.PositiveBigIntegerField()),
                ("at", models.DateTimeField()),
            ],
            options={
                "ordering": ("at", "id"),
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False,
                        field="lot",
                        name="piece_weighing_and_its_lot_share_a_studio",
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True,
                        field="posting",
                        name="piece_weighing_and_its_posting_share_a_studio",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("pieces__gt", 0)), name="piece_weighing_has_pieces"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("weight_mg__gt", 0)), name="piece_weighing_weighs"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Stay",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
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
                ("at", models.DateTimeField()),
                ("state", models.CharField(max_length=20)),
                ("place", models.CharField(blank=True, max_length=40)),
                ("place_kind", models.CharField(max_length=20)),
                ("temperature_c", models.FloatField(blank=True, null=True)),
            ],
            options={
                "ordering": ("at", "id"),
                "abstract": False,
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False, field="lot", name="stay_and_its_lot_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True, field="posting", name="stay_and_its_posting_share_a_studio"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Standing",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
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
                ("at", models.DateTimeField()),
                ("labelled", models.BooleanField(default=True)),
                ("set_aside", models.CharField(blank=True, max_length=200)),
                ("arrives_at", models.DateTimeField(blank=True, null=True)),
                ("nest_checked", models.BooleanField(blank=True, null=True)),
                ("weighed", models.BooleanField(default=True)),
            ],
            options={
                "ordering": ("at", "id"),
                "abstract": False,
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False, field="lot", name="standing_and_its_lot_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True,
                        field="posting",
                        name="standing_and_its_posting_share_a_studio",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Verdict",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
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
                ("at", models.DateTimeField()),
                ("sound", models.BooleanField()),
            ],
            options={
                "ordering": ("at", "id"),
                "abstract": False,
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False, field="lot", name="verdict_and_its_lot_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True,
                        field="posting",
                        name="verdict_and_its_posting_share_a_studio",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Jar",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
                    ),
                ),
                (
                    "lot",
                    models.OneToOneField(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="jar",
                        to="inventory.lot",
                    ),
                ),
                ("name", models.CharField(max_length=80)),
                ("metal", models.CharField(max_length=20)),
                ("vinegar_parts", inventory.models.fields.FractionText(default="0", max_length=60)),
                ("water_parts", inventory.models.fields.FractionText(default="0", max_length=60)),
                ("acid_percent", inventory.models.fields.DecimalText(default="0", max_length=40)),
                ("begun_at", models.DateTimeField(blank=True, null=True)),
                ("begun_volume_ul", models.PositiveBigIntegerField()),
                ("temperature_c", models.FloatField(blank=True, null=True)),
                ("metal_put_in_mg", models.PositiveBigIntegerField(blank=True, null=True)),
                ("looks", models.CharField(blank=True, max_length=80)),
            ],
            options={
                "ordering": ("id",),
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False, field="lot", name="jar_and_its_lot_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True, field="posting", name="jar_and_its_posting_share_a_studio"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Dip",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
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
                ("at", models.DateTimeField()),
                ("grade", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("metal_mg_per_l", models.FloatField(blank=True, null=True)),
            ],
            options={
                "ordering": ("at", "id"),
                "abstract": False,
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False, field="lot", name="dip_and_its_lot_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True, field="posting", name="dip_and_its_posting_share_a_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("grade__isnull", True),
                            models.Q(("grade__gte", 1), ("grade__lte", 5)),
                            _connector="OR",
                        ),
                        name="dip_grade_from_1_to_5",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("grade__isnull", False),
                            ("metal_mg_per_l__isnull", False),
                            _connector="OR",
                        ),
                        name="dip_says_what_it_showed",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="JarEvent",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
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
                ("at", models.DateTimeField()),
                ("kind", models.CharField(max_length=20)),
                ("vinegar_parts", inventory.models.fields.FractionText(default="0", max_length=60)),
                ("acid_percent", inventory.models.fields.DecimalText(default="0", max_length=40)),
                ("temperature_c", models.FloatField(blank=True, null=True)),
            ],
            options={
                "ordering": ("at", "id"),
                "abstract": False,
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False, field="lot", name="jar_event_and_its_lot_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True,
                        field="posting",
                        name="jar_event_and_its_posting_share_a_studio",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("kind__in", ["topped up", "strained", "kept at", "evaporated"])
                        ),
                        name="jar_event_of_a_known_kind",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Bath",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
                    ),
                ),
                (
                    "lot",
                    models.OneToOneField(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="bath",
                        to="inventory.lot",
                    ),
                ),
                ("made_at", models.DateTimeField()),
                ("temperature_c", models.FloatField()),
                ("shade", models.CharField(blank=True, max_length=80)),
                ("depth", models.PositiveSmallIntegerField(default=0)),
                ("metal", models.CharField(blank=True, max_length=20)),
            ],
            options={
                "ordering": ("id",),
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False, field="lot", name="bath_and_its_lot_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True, field="posting", name="bath_and_its_posting_share_a_studio"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="BathState",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
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
                ("at", models.DateTimeField()),
                ("times_used", models.PositiveIntegerField(default=0)),
                ("alum_left_mg", models.PositiveBigIntegerField(default=0)),
            ],
            options={
                "ordering": ("at", "id"),
                "abstract": False,
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False, field="lot", name="bath_state_and_its_lot_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True,
                        field="posting",
                        name="bath_state_and_its_posting_share_a_studio",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="FibreLot",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
                    ),
                ),
                (
                    "lot",
                    models.OneToOneField(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="fibre",
                        to="inventory.lot",
                    ),
                ),
                ("form", models.CharField(max_length=20)),
                ("clients_own", models.BooleanField(default=False)),
            ],
            options={
                "ordering": ("id",),
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False, field="lot", name="fibre_lot_and_its_lot_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True,
                        field="posting",
                        name="fibre_lot_and_its_posting_share_a_studio",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="FibreState",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
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
                ("at", models.DateTimeField()),
                ("since", models.DateField(blank=True, null=True)),
                ("scoured", models.BooleanField(default=False)),
                ("mordant", models.CharField(blank=True, max_length=40)),
                (
                    "mordant_percent",
                    inventory.models.fields.DecimalText(default="0", max_length=40),
                ),
                ("damp", models.BooleanField(default=False)),
                ("iron_percent", inventory.models.fields.DecimalText(default="0", max_length=40)),
                ("shade", models.CharField(blank=True, max_length=80)),
            ],
            options={
                "ordering": ("at", "id"),
                "abstract": False,
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False, field="lot", name="fibre_state_and_its_lot_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True,
                        field="posting",
                        name="fibre_state_and_its_posting_share_a_studio",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("mordant", ""), _negated=True),
                            ("mordant_percent", "0"),
                            _connector="OR",
                        ),
                        name="fibre_state_percent_only_with_mordant",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Vessel",
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
                ("kind", models.CharField(max_length=20)),
                ("material", models.CharField(blank=True, max_length=20)),
                ("brim_ml", models.PositiveIntegerField()),
                ("working_ml", models.PositiveIntegerField()),
                ("iron_pot", models.BooleanField(default=False)),
                ("food", models.BooleanField(default=False)),
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
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "code"), name="vessel_code_is_its_own"
                    ),
                    models.UniqueConstraint(
                        fields=("studio", "id"), name="vessel_key_in_its_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="site", name="vessel_and_its_site_share_a_studio"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("working_ml__lte", models.F("brim_ml"))),
                        name="vessel_works_within_its_brim",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="VesselUse",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
                    ),
                ),
                (
                    "vessel",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.vessel",
                    ),
                ),
                ("at", models.DateTimeField()),
                ("what", models.CharField(max_length=20)),
            ],
            options={
                "ordering": ("at", "id"),
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False,
                        field="vessel",
                        name="vessel_use_and_its_vessel_share_a_studio",
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True,
                        field="posting",
                        name="vessel_use_and_its_posting_share_a_studio",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "what__in",
                                ["iron", "blank passed", "blank failed", "chipped", "mended"],
                            )
                        ),
                        name="vessel_use_of_a_known_kind",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Ring",
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
                ("watts", models.PositiveIntegerField()),
                ("not_for", models.CharField(blank=True, max_length=400)),
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
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(fields=("studio", "code"), name="ring_code_is_its_own"),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="site", name="ring_and_its_site_share_a_studio"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Line",
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
                ("holds_mg", models.PositiveBigIntegerField()),
                ("outdoors", models.BooleanField(default=False)),
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
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(fields=("studio", "code"), name="line_code_is_its_own"),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="site", name="line_and_its_site_share_a_studio"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ColdPlace",
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
                ("kind", models.CharField(max_length=20)),
                ("holds_mg", models.PositiveBigIntegerField(blank=True, null=True)),
                ("temperature_c", models.FloatField(blank=True, null=True)),
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
            ],
            options={
                "ordering": ("code",),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "code"), name="cold_place_code_is_its_own"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="site", name="cold_place_and_its_site_share_a_studio"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Swatch",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
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
                ("number", models.PositiveIntegerField()),
                ("shade", models.CharField(blank=True, max_length=80)),
                ("at", models.DateTimeField()),
            ],
            options={
                "ordering": ("number",),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "number"), name="swatch_number_is_its_own"
                    ),
                    models.UniqueConstraint(
                        fields=("studio", "id"), name="swatch_key_in_its_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="lot", name="swatch_and_its_lot_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True, field="posting", name="swatch_and_its_posting_share_a_studio"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Reading",
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
                    "posting",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.posting",
                    ),
                ),
                (
                    "swatch",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.swatch",
                    ),
                ),
                ("at", models.DateTimeField()),
                ("what", models.CharField(max_length=20)),
                (
                    "value",
                    inventory.models.fields.DecimalText(blank=True, max_length=40, null=True),
                ),
                (
                    "lab_l",
                    inventory.models.fields.DecimalText(blank=True, max_length=40, null=True),
                ),
                (
                    "lab_a",
                    inventory.models.fields.DecimalText(blank=True, max_length=40, null=True),
                ),
                (
                    "lab_b",
                    inventory.models.fields.DecimalText(blank=True, max_length=40, null=True),
                ),
                ("days", models.PositiveIntegerField(blank=True, null=True)),
            ],
            options={
                "ordering": ("at", "id"),
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False, field="swatch", name="reading_and_its_swatch_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=True,
                        field="posting",
                        name="reading_and_its_posting_share_a_studio",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("what__in", ["colour", "light", "wash", "rub"])),
                        name="reading_of_a_known_kind",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Seal",
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
                ("number", models.PositiveIntegerField()),
                ("follows", models.PositiveIntegerField(blank=True, null=True)),
                ("digest_before", models.CharField(blank=True, max_length=64)),
                ("digest", models.CharField(max_length=64)),
                ("postings", models.PositiveIntegerField()),
                (
                    "sealed_at",
                    models.DateTimeField(
                        db_default=django.db.models.functions.datetime.Now(), editable=False
                    ),
                ),
            ],
            options={
                "ordering": ("number",),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "number"), name="seal_number_is_its_own"
                    ),
                    models.UniqueConstraint(fields=("studio", "id"), name="seal_key_in_its_studio"),
                    models.UniqueConstraint(
                        fields=("studio", "number", "digest"), name="seal_can_be_followed"
                    ),
                    inventory.models.scope.TableRule(
                        clause="FOREIGN KEY (studio_id, follows, digest_before) "
                        "REFERENCES {table} (studio_id, number, digest)",
                        name="seal_begins_where_the_last_one_ended",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("digest_before", ""), ("follows__isnull", True), ("number", 1)
                            ),
                            models.Q(
                                (
                                    "follows",
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("number"), "-", models.Value(1)
                                    ),
                                ),
                                ("follows__isnull", False),
                                ("number__gt", 1),
                            ),
                            _connector="OR",
                        ),
                        name="seal_follows_the_one_before",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Sealed",
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
                    "seal",
                    models.ForeignKey(
                        db_constraint=False,
                        db_index=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.seal",
                    ),
                ),
                (
                    "posting",
                    models.OneToOneField(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="sealed",
                        to="inventory.posting",
                    ),
                ),
                ("place", models.PositiveIntegerField()),
                ("digest", models.CharField(max_length=64)),
            ],
            options={
                "ordering": ("seal", "place"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("seal", "place"), name="sealed_place_once_a_seal"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False, field="seal", name="sealed_and_its_seal_share_a_studio"
                    ),
                    inventory.models.scope.SameStudio(
                        deferred=False,
                        field="posting",
                        name="sealed_and_its_posting_share_a_studio",
                    ),
                ],
            },
        ),
    ]
    operations = [AtOnce(operations)]
