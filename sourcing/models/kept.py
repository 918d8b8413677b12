"""What was kept of a run when it was begun, and which of its steps are done: only ever added to."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Now

from inventory.models.fields import DecimalText
from inventory.models.scope import OfStudio, SameStudio, is_one_with, points_at


class KeptPlan(OfStudio):
    """A run begun: the plan that it had then, which other runs go round from now on."""

    never_changed = True

    run = points_at("sourcing.Run")
    entry = models.UUIDField()
    begun_at = models.DateTimeField()
    recorded_at = models.DateTimeField(db_default=Now(), editable=False)
    by_step = models.BooleanField(default=False)  # begun by its first step being done
    hangs = models.JSONField(default=list)  # [line, since, until, mg] each
    jobs = models.JSONField(default=list)  # [what, by, text, hands_min, kind, lot] each

    class Meta:
        ordering = ("begun_at", "id")
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="kept_plan_entered_once"),
            models.UniqueConstraint(fields=["studio", "id"], name="kept_plan_key_in_its_studio"),
            SameStudio(field="run", name="kept_plan_and_its_run_share_a_studio"),
        )

    def __str__(self) -> str:
        return f"plan of {self.run_id}"


class NotBegun(OfStudio):
    """A run that was said to be begun by mistake; what it kept holds no longer."""

    never_changed = True

    plan = is_one_with("sourcing.KeptPlan", related_name="+")
    entry = models.UUIDField()
    at = models.DateTimeField()
    recorded_at = models.DateTimeField(db_default=Now(), editable=False)

    class Meta:
        ordering = ("id",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="not_begun_entered_once"),
            SameStudio(field="plan", name="not_begun_and_its_plan_share_a_studio"),
        )

    def __str__(self) -> str:
        return f"not begun: {self.plan_id}"


class KeptStep(OfStudio):
    """One pot-load of one step as it was planned when its run was begun."""

    never_changed = True

    plan = points_at("sourcing.KeptPlan")
    number = models.PositiveSmallIntegerField()
    step = models.CharField(max_length=80)
    kind = models.CharField(max_length=20)
    round = models.PositiveSmallIntegerField()
    load = models.PositiveSmallIntegerField()
    vessel = models.CharField(max_length=40, blank=True)
    ring = models.CharField(max_length=40, blank=True)
    since = models.DateTimeField()
    until = models.DateTimeField()  # the flame is out, the rinse is over
    held_until = models.DateTimeField()
    attended_until = models.DateTimeField(null=True, blank=True)
    hands_min = models.PositiveIntegerField()
    volume_ul = models.PositiveBigIntegerField()
    weight_mg = models.PositiveBigIntegerField()
    heat_min = models.PositiveIntegerField()
    hold_min = models.PositiveIntegerField()
    start_c = models.SmallIntegerField(null=True, blank=True)
    goal_c = models.SmallIntegerField(null=True, blank=True)
    shared_with = models.JSONField(default=list)  # codes of runs in the same vessel

    class Meta:
        ordering = ("plan", "number")
        constraints = (
            models.UniqueConstraint(fields=["plan", "number"], name="kept_step_number_is_its_own"),
            SameStudio(field="plan", name="kept_step_and_its_plan_share_a_studio"),
            models.CheckConstraint(
                condition=Q(since__lte=F("until")), name="kept_step_begins_before_it_ends"
            ),
        )

    def __str__(self) -> str:
        return self.step


class KeptTake(OfStudio):
    """What a step of a run that is begun takes, as it was planned then."""

    never_changed = True

    plan = points_at("sourcing.KeptPlan")
    number = models.PositiveSmallIntegerField()
    step = models.CharField(max_length=80, blank=True)  # empty: the fibre itself
    lot_code = models.CharField(max_length=40)  # of a lot that may be still to come
    what = models.CharField(max_length=80)
    amount = models.PositiveBigIntegerField()
    unit = models.CharField(max_length=2)
    at = models.DateTimeField()
    left_after = models.BigIntegerField()
    length_mm = models.PositiveBigIntegerField(null=True, blank=True)
    to_come = models.BooleanField(default=False)  # not on the shelf yet, so not claimed there
    carried_from = models.CharField(max_length=40, blank=True)  # site; empty: it is there
    carried_to = models.CharField(max_length=40, blank=True)
    carried_round = models.PositiveSmallIntegerField(default=0)  # of that step; 0: not carried

    class Meta:
        ordering = ("plan", "number")
        constraints = (
            models.UniqueConstraint(fields=["plan", "number"], name="kept_take_number_is_its_own"),
            SameStudio(field="plan", name="kept_take_and_its_plan_share_a_studio"),
            models.CheckConstraint(condition=Q(amount__gt=0), name="kept_take_is_of_something"),
            models.CheckConstraint(
                condition=Q(unit__in=["mg", "µL"]), name="kept_take_in_a_known_unit"
            ),
        )

    def __str__(self) -> str:
        return f"{self.amount} {self.unit} of {self.lot_code}"


class StepDone(OfStudio):
    """A step of a run done, all its pot-loads or one, with what went otherwise than planned."""

    never_changed = True

    plan = points_at("sourcing.KeptPlan")
    entry = models.UUIDField()
    step = models.CharField(max_length=80)
    round = models.PositiveSmallIntegerField()
    load = models.PositiveSmallIntegerField(default=0)  # 0: every one that was left
    at = models.DateTimeField()
    begun_at = models.DateTimeField(null=True, blank=True)  # where it differs
    recorded_at = models.DateTimeField(db_default=Now(), editable=False)
    vessel = models.CharField(max_length=40, blank=True)
    volume_ul = models.PositiveBigIntegerField(null=True, blank=True)
    weight_mg = models.PositiveBigIntegerField(null=True, blank=True)
    minutes = models.PositiveIntegerField(null=True, blank=True)  # of hands
    warmth_c = DecimalText(null=True, blank=True)  # the warmest it was
    took = models.JSONField(default=list)  # [lot, mg or µL] each, in place of what was planned
    note = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ("at", "id")
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="step_done_entered_once"),
            models.UniqueConstraint(fields=["studio", "id"], name="step_done_key_in_its_studio"),
            SameStudio(field="plan", name="step_done_and_its_plan_share_a_studio"),
            models.CheckConstraint(
                condition=Q(begun_at__isnull=True) | Q(begun_at__lte=F("at")),
                name="step_done_after_it_was_begun",
            ),
        )

    def __str__(self) -> str:
        return f"{self.step} done"


class StepNotDone(OfStudio):
    """A step that was said to be done by mistake."""

    never_changed = True

    done = is_one_with("sourcing.StepDone", related_name="+")
    entry = models.UUIDField()
    at = models.DateTimeField()
    recorded_at = models.DateTimeField(db_default=Now(), editable=False)
    note = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ("id",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="step_not_done_entered_once"),
            SameStudio(field="done", name="step_not_done_and_its_step_share_a_studio"),
        )

    def __str__(self) -> str:
        return f"not done after all: {self.done_id}"
