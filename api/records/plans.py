"""What is wanted, as records: runs, what is promised to them, their gates, what to put by."""

from __future__ import annotations

from api.records.columns import (
    amount,
    at_sites,
    count,
    day,
    exact,
    flag,
    in_pots,
    key,
    mass,
    moment,
    said,
    text,
    volume,
    waits,
    words,
)
from api.records.noun import Filter, Noun, by, happened, on_days, one_of, yes
from sourcing.models import (
    Claim,
    FastnessWish,
    KeptStep,
    KeptTake,
    PutByWish,
    Run,
    ShadeCard,
    Snippet,
    StepDone,
    TakenWeek,
)

ASKED_FOR = ("light", "wash", "rub")

RUNS = Noun(
    name="runs",
    one="run",
    about="Runs that are wanted and runs that were dyed. What each is still short of is in `week`.",
    model=Run,
    columns=(
        text("code"),
        text("recipe", "recipe__code"),
        count("recipe_version", "recipe__version"),
        text("shade", "recipe__shade"),
        text("fibre"),
        mass("weight", "weight_mg"),
        said("fibre_lot", "fibre_lot__code"),
        moment("due", empty=True),
        said("jar", "jar__code"),
        said("for_whom"),
        flag("client"),
        said("group_block", "group_block__code"),
        count("people"),
        flag("begun"),
        day("fibre_needed_by", empty=True),
        moment("finished_at", empty=True),
        said("came_out"),
        key("entry", "posting__entry", empty=True),
    ),
    filters=(
        *by("fibre", "for_whom", recipe="recipe__code", shade="recipe__shade"),
        *by(fibre_lot="fibre_lot__code", jar="jar__code"),
        yes("client"),
        yes("begun"),
        Filter("to_dye", "finished_at__isnull", "yes", about="yes: only those not yet finished"),
        Filter("due_since", "due", "since", about="due from this moment or day on"),
        Filter("due_until", "due", "until", about="due before this moment or day"),
    ),
    order=("code",),
    key="code",
)

CLAIMS = Noun(
    name="claims",
    one="claim",
    about="Amounts of lots that are promised to runs, until they are released.",
    model=Claim,
    columns=(
        key("entry"),
        text("run", "run__code"),
        text("lot", "lot__code"),
        text("of", "lot__what"),
        amount("amount", "amount", "lot__unit"),
        said("step"),
        moment("made_at"),
        moment("released_at", empty=True),
    ),
    filters=(
        *by(run="run__code", lot="lot__code", of="lot__what"),
        Filter("stands", "released_at__isnull", "yes", about="yes: only those not released"),
        *happened("made_at"),
    ),
    order=("made_at", "id"),
    key="entry",
    key_kind="uuid",
)

SNIPPETS = Noun(
    name="snippets",
    one="snippet",
    about="Snippets of cloth that were dyed in a run's extract before the cloth.",
    model=Snippet,
    columns=(
        count("id"),
        text("run", "run__code"),
        count("swatch", "swatch__number"),
        flag("good"),
        said("looks"),
    ),
    filters=(*by(run="run__code"), yes("good")),
    key_kind="number",
)

SHADE_CARDS = Noun(
    name="shade-cards",
    one="shade card",
    about="The shade card of a run, and whether it was agreed.",
    model=ShadeCard,
    columns=(text("run", "run__code"), flag("agreed", "approved")),
    filters=(yes("agreed", "approved"),),
    order=("run__code",),
    key="run__code",
)

FASTNESS_WISHES = Noun(
    name="fastness-wishes",
    one="fastness wish",
    about="Readings that are asked for before a run may be promised, beside the reading so far.",
    model=FastnessWish,
    columns=(
        count("id"),
        text("run", "run__code"),
        text("what", among=ASKED_FOR),
        exact("wanted"),
        exact("reading", empty=True),
        day("begun_on", empty=True),
        count("days"),
        flag("accepted_in_writing"),
    ),
    filters=(*by(run="run__code"), one_of("what", ASKED_FOR)),
    key_kind="number",
)

PUT_BY_WISHES = Noun(
    name="put-by-wishes",
    one="put-by wish",
    about="Runs that are wanted over months in which nothing comes, to be put by for.",
    model=PutByWish,
    columns=(
        text("code"),
        said("recipe", "recipe__code"),
        said("dyestuff"),
        said("state", among=("dried", "frozen")),
        count("runs"),
        mass("each", "each_mg"),
        day("since"),
        day("last_on"),
        text("spread", among=("monthly", "evenly")),
        said("note"),
    ),
    filters=(*by("dyestuff", recipe="recipe__code"), *on_days("since")),
    order=("code",),
    key="code",
)

KEPT_STEPS = Noun(
    name="kept-steps",
    one="kept step",
    about="The steps of runs as they were planned when the run was begun, each pot-load.",
    model=KeptStep,
    columns=(
        count("id"),
        text("run", "plan__run__code"),
        key("plan", "plan__entry"),
        moment("begun_at", "plan__begun_at"),
        count("number"),
        text("step"),
        text("kind"),
        count("round"),
        count("load"),
        said("vessel"),
        said("ring"),
        moment("since"),
        moment("until"),
        moment("held_until"),
        moment("attended_until", empty=True),
        count("hands_min"),
        volume("volume", "volume_ul"),
        mass("weight", "weight_mg"),
        count("heat_min"),
        count("hold_min"),
        words("shared_with"),
    ),
    filters=(*by(run="plan__run__code", step="step", vessel="vessel"), *happened("since")),
    key_kind="number",
)

KEPT_TAKES = Noun(
    name="kept-takes",
    one="kept take",
    about="What the steps of runs take, as it was planned when the run was begun.",
    model=KeptTake,
    columns=(
        count("id"),
        text("run", "plan__run__code"),
        key("plan", "plan__entry"),
        count("number"),
        said("step"),
        text("lot", "lot_code"),
        text("of", "what"),
        amount("amount", "amount", "unit"),
        moment("at"),
    ),
    filters=(*by(run="plan__run__code", lot="lot_code", of="what"), *happened("at")),
    key_kind="number",
)

STEPS_DONE = Noun(
    name="steps-done",
    one="step done",
    about="Steps of runs that were done, with what went otherwise than planned.",
    model=StepDone,
    columns=(
        key("entry"),
        text("run", "plan__run__code"),
        text("step"),
        count("round"),
        count("load"),
        moment("at"),
        moment("begun_at", empty=True),
        said("vessel"),
        volume("volume", "volume_ul", empty=True),
        mass("weight", "weight_mg", empty=True),
        count("minutes", empty=True),
        exact("warmth_c", empty=True),
        said("note"),
    ),
    filters=(*by(run="plan__run__code", step="step"), *happened("at")),
    order=("at", "id"),
    key="entry",
    key_kind="uuid",
)

TAKEN_WEEKS = Noun(
    name="taken-weeks",
    one="taken week",
    about="Weeks that were taken in place of the plain one; the last holds, up to its end.",
    model=TakenWeek,
    columns=(
        key("entry"),
        moment("at"),
        moment("until"),
        words("order"),
        waits("waits", "floors"),
        at_sites("sites", "sites"),
        in_pots("together", "together"),
        said("note"),
    ),
    filters=(*happened("at"),),
    order=("at", "id"),
    key="entry",
    key_kind="uuid",
)

NOUNS = (
    RUNS,
    CLAIMS,
    KEPT_STEPS,
    KEPT_TAKES,
    STEPS_DONE,
    TAKEN_WEEKS,
    SNIPPETS,
    SHADE_CARDS,
    FASTNESS_WISHES,
    PUT_BY_WISHES,
)
