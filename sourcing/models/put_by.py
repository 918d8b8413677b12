"""What is to be put by for: runs wanted over months in which nothing comes."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from inventory.models.scope import OfStudio, SameStudio, points_at

RUNS_AT_MOST = 100


class PutByWish(OfStudio):
    """So many runs of a recipe, or of so much of a dyestuff, over some months."""

    code = models.CharField(max_length=40)
    recipe = points_at("sourcing.Recipe", null=True, blank=True)
    dyestuff = models.CharField(max_length=80, blank=True)
    state = models.CharField(max_length=20, blank=True)  # of the dyestuff; empty: as it keeps best
    runs = models.PositiveSmallIntegerField()
    each_mg = models.PositiveBigIntegerField()  # of the dyestuff; of fibre where it is a recipe
    since = models.DateField()
    last_on = models.DateField()
    spread = models.CharField(max_length=10, default="monthly")
    note = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ("code",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "code"], name="put_by_code_is_its_own"),
            SameStudio(field="recipe", name="put_by_and_its_recipe_share_a_studio"),
            models.CheckConstraint(condition=~Q(code=""), name="put_by_has_a_code"),
            models.CheckConstraint(
                condition=(Q(recipe__isnull=True) & ~Q(dyestuff=""))
                | Q(recipe__isnull=False, dyestuff=""),
                name="put_by_is_of_a_recipe_or_a_dyestuff",
            ),
            models.CheckConstraint(
                condition=Q(recipe__isnull=True) | Q(state=""), name="put_by_recipe_says_its_state"
            ),
            models.CheckConstraint(
                condition=Q(state__in=["", "dried", "frozen"]), name="put_by_in_a_state_that_keeps"
            ),
            models.CheckConstraint(
                condition=Q(runs__gte=1, runs__lte=RUNS_AT_MOST), name="put_by_runs_from_1_to_100"
            ),
            models.CheckConstraint(condition=Q(each_mg__gt=0), name="put_by_each_takes_something"),
            models.CheckConstraint(
                condition=Q(since__lte=F("last_on")), name="put_by_begins_before_it_ends"
            ),
            models.CheckConstraint(
                condition=Q(spread__in=["monthly", "evenly"]), name="put_by_spread_is_known"
            ),
        )

    def __str__(self) -> str:
        return self.code
