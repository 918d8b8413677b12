"""Links for sources: who saves something tells of it without an account; and what they told."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from api.models.links import SecretLink
from inventory.models.scope import OfStudio, SameStudio, points_at

LONGEST_ASKING, LONGEST_WISH, LONGEST_WORD, LONGEST_AMOUNT = 40, 200, 200, 80


class SourceLink(SecretLink):
    """A link by which one source tells of its hand-overs; of it only a digest is kept.

    It opens nothing else of the studio, and outlives whoever made it until a member ends it.
    """

    source = points_at("sourcing.Source")
    mark = models.CharField(max_length=16)  # stands in the address of its page; opens nothing
    asks = models.CharField(max_length=LONGEST_ASKING, blank=True)  # first name of who asks
    wish = models.CharField(max_length=LONGEST_WISH, blank=True)  # how it is wanted
    made_by = models.CharField(max_length=80, blank=True)
    expires_at = models.DateTimeField()
    uses = models.PositiveIntegerField(default=0)
    last_used_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made_at", "-id")
        constraints = (
            SameStudio(field="source", name="source_link_and_its_source_share_a_studio"),
            models.UniqueConstraint(fields=["digest"], name="source_link_digest_is_its_own"),
            models.UniqueConstraint(fields=["mark"], name="source_link_mark_is_its_own"),
            models.UniqueConstraint(fields=["studio", "id"], name="source_link_key_in_its_studio"),
            models.CheckConstraint(
                condition=Q(expires_at__gt=F("made_at")), name="source_link_good_for_some_time"
            ),
        )

    def __str__(self) -> str:
        return f"link of source {self.source_id}, until {self.expires_at:%d %B %Y}"


class SourceWord(OfStudio):
    """What a source told by its link, as it was written; only added to, the last one holds."""

    link = points_at("api.SourceLink")
    entry = models.UUIDField()  # by which it was recorded
    gives = models.CharField(max_length=80)
    due_at = models.DateTimeField()
    amount = models.CharField(max_length=LONGEST_AMOUNT, blank=True)  # empty: none this time
    word = models.CharField(max_length=LONGEST_WORD, blank=True)
    said_at = models.DateTimeField()
    seen_at = models.DateTimeField(null=True, blank=True)  # looked at by somebody of the studio

    class Meta:
        ordering = ("-said_at", "-id")
        constraints = (
            SameStudio(field="link", name="source_word_and_its_link_share_a_studio"),
            models.UniqueConstraint(fields=["studio", "entry"], name="source_word_entered_once"),
            models.CheckConstraint(condition=~Q(gives=""), name="source_word_is_of_something"),
        )

    def __str__(self) -> str:
        return f"{self.gives}, {self.due_at:%d %B %Y}: {self.amount or 'none'}"
