"""Rows of a notebook against each other: every sentence, and the same notebook put right."""

from __future__ import annotations

import pytest

from sourcing.notebook.check import check
from sourcing.notebook.notebook import read_notebook
from tests.sourcing.notebook.desk import altered, pages, sentences, yard_files

FIBRE_ENDS = 'set aside,site\nW-88,wool,yarn,"2,400 g",no,,no,,,no,yes,,yes,,\n'
SCOUR = "blush,1,scour,scour,pot,,fresh > 55 hold 60 min,,no,,30 min per load,,no,,,no,no,"


def said(files: dict[str, bytes]) -> list[str]:
    """Everything that is wrong with a notebook."""
    notebook, problems = read_notebook(files)
    return sentences(sorted({*problems, *check(notebook, piece_known=lambda item: False)}))


def test_nothing_is_wrong_with_the_demo_studio() -> None:
    assert said(yard_files()) == []


def test_a_notebook_of_the_studios_row_alone_is_enough() -> None:
    assert said(pages()) == []


def test_a_folder_without_the_studios_page_is_refused() -> None:
    assert said({}) == [
        "studio.csv: The page is missing. Write the studio's name and time zone in it."
    ]


def test_a_studios_page_without_its_row_is_refused() -> None:
    assert said({"studio.csv": b"studio,zone\n"}) == [
        "studio.csv: One row with name and time zone belongs here."
    ]


def test_a_page_that_nobody_knows_is_refused() -> None:
    assert said(pages(vesels="vessel\n"))[0] == (
        "vesels.csv: There is no such page. Did you mean vessels.csv?"
    )


def test_a_page_that_is_there_twice_is_refused() -> None:
    files = pages(cold_places="place,kind\n") | {"Cold Places.csv": b"place,kind\n"}

    assert said(files) == [
        "cold_places.csv: The page is there twice, as Cold Places.csv too. Keep one of them."
    ]


@pytest.mark.parametrize(
    ("file", "old", "new", "sentence"),
    [
        pytest.param(
            "vessels.csv",
            "P2,pot",
            "p1,pot",
            "vessels.csv, line 3, column vessel: Line 2 has the same vessel, p1. "
            "Write another, or keep one row.",
            id="two vessels with one code",
        ),
        pytest.param(
            "vessels.csv",
            "60 L,48 L",
            "60 L,61 L",
            'vessels.csv, line 2, column working: "61 L" stands there. '
            "More than it holds to the brim. Write what is filled safely.",
            id="more than the brim",
        ),
        pytest.param(
            "vessels.csv",
            "pot,stainless,60",
            "pan,stainless,60",
            'vessels.csv, line 2, column kind: "pan" stands there. Write pot, tub or bucket.',
            id="unknown kind of vessel",
        ),
        pytest.param(
            "rings.csv",
            "3.0 kW,P1",
            "3.0 kW,P9",
            'rings.csv, line 3, column not for: "P9" stands there. vessels.csv has no P9. '
            "Add it to vessels.csv, or correct it.",
            id="unknown vessel",
        ),
        pytest.param(
            "rings.csv",
            "3.0 kW,P1",
            "3.0 kW,p1",
            'rings.csv, line 3, column not for: "p1" stands there. vessels.csv has no p1. '
            "Did you mean P1?",
            id="vessel in other letters",
        ),
        pytest.param(
            "rules.csv",
            "wool,scour loss fraction,5 %",
            "wool,scour loss fraction,95 %",
            'rules.csv, line 2, column value: "95 %" stands there. The sums can work with 0 % to '
            "90 %. Write a value between them.",
            id="a figure that leaves nothing",
        ),
        pytest.param(
            "rules.csv",
            "wool,scour loss fraction",
            "wool,scour lost fraction",
            'rules.csv, line 2, column rule: "scour lost fraction" stands there. '
            "No sum asks for it. Did you mean scour loss fraction?",
            id="unknown rule",
        ),
        pytest.param(
            "rules.csv",
            "drying h,48 h",
            "drying h,48 g",
            'rules.csv, line 14, column value: "48 g" stands there. '
            "The rule is not counted in g. Write it in h.",
            id="rule in another unit",
        ),
        pytest.param(
            "rules.csv",
            "studio,two person l,15 L",
            "nests,season from month,13",
            'rules.csv, line 25, column value: "13" stands there. '
            "Write a whole number from 1 to 12.",
            id="a thirteenth month",
        ),
        pytest.param(
            "lots.csv",
            "fresh,fridge",
            "fresh,frigde",
            'lots.csv, line 4, column place: "frigde" stands there. There is no such place. '
            "Did you mean fridge?",
            id="unknown place",
        ),
        pytest.param(
            "lots.csv",
            'AV-0911,avocado stones,"1,900 g"',
            "AV-0911,avocado stones,lots",
            'lots.csv, line 2, column amount: "lots" stands there. '
            "“lots” makes it a guess. Write one amount, as the scale or the jug shows it.",
            id="an amount that is a guess",
        ),
        pytest.param(
            "lots.csv",
            "AV-1109,",
            "J1,",
            'jars.csv, line 2, column jar: "J1" stands there. '
            "Line 5 of lots.csv has this code. Write another.",
            id="one code for a lot and a jar",
        ),
        pytest.param(
            "lots.csv",
            "AV-1109,",
            "AV-1123,",
            'pickups.csv, line 8, column lot: "AV-1123" stands there. AV-1123 is on the shelf '
            "already (lots.csv, line 5). Write made, or another code.",
            id="a reported pick-up that is here already",
        ),
        pytest.param(
            "jars.csv",
            "17 Nov 2026 09:00,3.0 L,3.0 L",
            "17 Nov 2026 09:00,3.0 L,2.8 L",
            'jars.csv, line 2, column left: "2.8 L" stands there. Begun with 3 L, and its events '
            "leave 3 L. Write that, or the event that is missing.",
            id="a jar whose sum is wrong",
        ),
        pytest.param(
            "jars.csv",
            "J1,Iron 7,iron",
            "J1,Iron 7,",
            "jars.csv, line 2, column metal: A jar with a label says this. "
            "Write it, or write no under labelled.",
            id="a label without a metal",
        ),
        pytest.param(
            "jar_events.csv",
            "strained,",
            "drawn,",
            "jar_events.csv, line 2, column amount: Drawn needs its amount. Write it.",
            id="a draw of nothing",
        ),
        pytest.param(
            "jar_events.csv",
            "strained,",
            "drawn,901 mL",
            'jars.csv, line 3, column begun with: "0.9 L" stands there. More was taken than there '
            "was. Correct jar_events.csv or begun with.",
            id="more drawn than there was",
        ),
        pytest.param(
            "jar_events.csv",
            "Sun 1 Nov 2026 09:00",
            "Tue 29 Sep 2026 09:00",
            'jar_events.csv, line 2, column at: "29 Sep 2026 09:00" stands there. '
            "J2 was begun later, on 30 Sep 2026 09:00. Look again.",
            id="strained before it was begun",
        ),
        pytest.param(
            "dips.csv",
            "09:00,4,",
            "09:00,,",
            "dips.csv, line 2, column strip: Write the strip's grade, 1 to 5, or a reading.",
            id="a dip that shows nothing",
        ),
        pytest.param(
            "fibre.csv",
            "yes,alum 12 %,no",
            "no,alum 12 %,no",
            'fibre.csv, line 3, column scoured: "no" stands there. '
            "Fibre is scoured before it is mordanted. Write yes under scoured.",
            id="mordanted and not scoured",
        ),
        pytest.param(
            "hours.csv",
            "dyer,Mon,6 h,09:00,18:00",
            "dyer,Mon,6 h,,18:00",
            "hours.csv, line 2, column from: Write the time of day, such as 09:00.",
            id="in from no hour",
        ),
        pytest.param(
            "hours.csv",
            "dyer,Mon,6 h,09:00,18:00",
            "dyer,Mon,6 h,18:00,09:00",
            'hours.csv, line 2, column to: "09:00" stands there. '
            "Write a time after the one in from.",
            id="gone before come",
        ),
        pytest.param(
            "hours.csv",
            "dyer,Sat,4 h",
            "dyer,Sat,5 h",
            'hours.csv, line 7, column hands: "300 min" stands there. '
            "That is more than from 10:00 to 14:00. Write less.",
            id="more hands than hours",
        ),
        pytest.param(
            "blocks.csv",
            "Sat 28 Nov 2026 14:00",
            "Sat 28 Nov 2026 10:00",
            'blocks.csv, line 2, column until: "28 Nov 2026 10:00" stands there. '
            "Write a moment after the one in from.",
            id="a block of no time",
        ),
        pytest.param(
            "agreements.csv",
            "27 Nov 2026,28 Feb 2027",
            "27 Nov 2026,26 Nov 2026",
            'agreements.csv, line 5, column until: "26 Nov 2026" stands there. '
            "Write a day after the one in since.",
            id="a window that closes first",
        ),
        pytest.param(
            "pickups.csv",
            "missed,,",
            "missed,3 stones,",
            'pickups.csv, line 3, column amount: "an amount" stands there. '
            "A missed pick-up brings nothing. Delete the amount, or write made.",
            id="missed and brought something",
        ),
        pytest.param(
            "pickups.csv",
            "made,65 stones",
            "made,",
            "pickups.csv, line 2, column amount: Write what came, such as 58 stones, "
            "or write missed.",
            id="made and brought nothing",
        ),
        pytest.param(
            "pickups.csv",
            "58 stones,AV-1123,fridge",
            "58 stones,AV-1123,",
            "pickups.csv, line 8, column place: A reported pick-up becomes a lot. "
            "Write such as fridge.",
            id="reported for no place",
        ),
        pytest.param(
            "pickups.csv",
            "made,65 stones",
            "made,65 pieces",
            'pickups.csv, line 2, column amount: "65 piece" stands there. '
            "avocado stones are counted by the stone. Write so many of those.",
            id="counted by another piece",
        ),
        pytest.param(
            "rules.csv",
            "avocado stones,piece mass g,42 g,,own scale\n",
            "",
            'pickups.csv, line 8, column amount: "58 stone" stands there. '
            "Nobody knows what one weighs. Add avocado stones, piece mass g to rules.csv, "
            "or write a weight.",
            id="a piece of unknown weight",
        ),
        pytest.param(
            "runs.csv",
            'A,blush,wool,"2,000 g"',
            "A,blush,wool,2000 kg",
            'runs.csv, line 2, column weight: "2,000 kg" stands there. A run of 100 kg at most is '
            "worked out. Divide it into several.",
            id="a run too heavy",
        ),
        pytest.param(
            "runs.csv",
            "A,blush,wool",
            "A,blush,silk",
            'runs.csv, line 2, column fibre: "silk" stands there. The recipe is for wool. '
            "Write that, or another recipe.",
            id="a recipe for another fibre",
        ),
        pytest.param(
            "runs.csv",
            '"2,000 g",W-88',
            '"2,000 g",L-31',
            'runs.csv, line 2, column fibre lot: "L-31" stands there. That lot is linen. '
            "Write one of wool.",
            id="a lot of another fibre",
        ),
        pytest.param(
            "runs.csv",
            "A,blush,",
            "A,blushing,",
            'runs.csv, line 2, column recipe: "blushing" stands there. recipes.csv has no '
            "blushing. Did you mean blush?",
            id="unknown recipe",
        ),
        pytest.param(
            "gates.csv",
            "B,light,4,",
            "B,light,,",
            "gates.csv, line 4, column wanted: Write the reading that is asked for, such as 4.",
            id="a reading wanted, nobody says which",
        ),
        pytest.param(
            "doses.csv",
            "blush,extract,avocado",
            "blush,extrakt,avocado",
            'doses.csv, line 3, column step: "extrakt" stands there. The recipe has no such step. '
            "Did you mean extract?",
            id="a dose at an unknown step",
        ),
        pytest.param(
            "doses.csv",
            "liquor,35 mL per 100 g",
            "liquor,35 %",
            'doses.csv, line 8, column amount: "35 %" stands there. A liquor is not dosed so. '
            "Write such as 35 mL per 100 g.",
            id="liquor by weight",
        ),
        pytest.param(
            "doses.csv",
            "alum,supply,12 %,",
            "alum,supply,12 %,dried",
            'doses.csv, line 2, column state: "dried" stands there. '
            "Only a dyestuff has a state. Delete it.",
            id="a supply in a state",
        ),
        pytest.param(
            "doses.csv",
            "group day,nettle bath,bath",
            "group day,Group day: nettle and cabbage,bath",
            'doses.csv, line 14, column what: "Group day: nettle and cabbage" stands there. '
            "So the recipe asks for itself. Write what it is really made with.",
            id="a recipe that asks for itself",
        ),
        pytest.param(
            "makings.csv",
            "nettle bath,nettle,",
            "nettle bath,nettle bath,",
            'makings.csv, line 2, column dyestuff: "nettle bath" stands there. '
            "So the bath asks for itself. Write what it is really made with.",
            id="a bath made of itself",
        ),
        pytest.param(
            "steps.csv",
            "blush,2,hot alum",
            "blush,2,Scour",
            'steps.csv, line 3, column step: "Scour" stands there. Line 2 is a step of that name '
            "too. Write another, such as Scour 2.",
            id="two steps of one name",
        ),
        pytest.param(
            "steps.csv",
            "blush,2,hot alum",
            "blush,1,hot alum",
            "steps.csv, line 3, column recipe: Line 2 has the same step, blush, 1. "
            "Write another, or keep one row.",
            id="two steps in one place",
        ),
        pytest.param(
            "steps.csv",
            "blush,1,scour,scour,pot",
            "blush,1,scour,scour,same",
            'steps.csv, line 2, column vessels: "same" stands there. Same means the pot of the '
            "step before, and stands alone. Write such as pot.",
            id="same as nothing",
        ),
        pytest.param(
            "steps.csv",
            "blush,1,scour,scour,pot",
            "blush,1,scour,scour,",
            "steps.csv, line 2, column vessels: A step that is heated needs a pot. Write pot.",
            id="heated in nothing",
        ),
        pytest.param(
            "steps.csv",
            'hedge-olive,1,soak,soak,"bucket, tub"',
            "hedge-olive,1,wet out,wet out,",
            "steps.csv, line 12, column vessels: Cloth is wetted out in something. "
            "Write bucket, tub.",
            id="wetted out in nothing",
        ),
        pytest.param(
            "fibre.csv",
            FIBRE_ENDS,
            FIBRE_ENDS.replace("site\n", "site,depth\n").replace("yes,,\n", "yes,,,3\n"),
            'fibre.csv, line 2, column depth: "3" stands there. '
            "It is not said what shade it is dyed. Write it under dyed, or delete this.",
            id="a depth of no shade",
        ),
        pytest.param(
            "fibre.csv",
            FIBRE_ENDS,
            FIBRE_ENDS.replace("site\n", "site,dyed,quality\n").replace(
                "yes,,\n", "yes,,,Blush,second quality\n"
            ),
            "fibre.csv, line 2, column came out: Write what went wrong, such as streaky.",
            id="second quality and nobody says why",
        ),
        pytest.param(
            "steps.csv",
            f"leaves\n{SCOUR}",
            f"leaves,snippet\n{SCOUR},20 min",
            'steps.csv, line 2, column snippet: "20 min" stands there. A snippet is dyed in what '
            "is strained the same day: write yes under strain, and no night or standing time.",
            id="a snippet in what is not strained",
        ),
        pytest.param(
            "steps.csv",
            f"leaves\n{SCOUR}",
            f"leaves,snippet hands\n{SCOUR},10 min",
            "steps.csv, line 2, column snippet: "
            "Write how long the snippet stands, or delete its hands.",
            id="hands at no snippet",
        ),
        pytest.param(
            "steps.csv",
            f"leaves\n{SCOUR}",
            f"leaves,begun at\n{SCOUR},30 °C",
            'steps.csv, line 2, column begun at: "30 °C" stands there. '
            "A step that is heated begins at the first warmth of its heats. Delete it.",
            id="heated in water that was warmed before",
        ),
        pytest.param(
            "steps.csv",
            "yes,70 °C,,yes",
            "no,70 °C,,yes",
            'steps.csv, line 4, column strain: "no" stands there. '
            "It says how warm it is strained. Write yes.",
            id="strained at a warmth and not strained",
        ),
        pytest.param(
            "chores.csv",
            "30 min,W-85",
            "30 min,W-8S",
            'chores.csv, line 2, column clears: "W-8S" stands there. lots.csv or fibre.csv has no '
            "W-8S. Did you mean W-88?",
            id="a chore that clears nothing",
        ),
    ],
)
def test_what_does_not_fit_together_is_said(file: str, old: str, new: str, sentence: str) -> None:
    assert sentence in said(altered(file, old, new))


def test_a_recipe_without_steps_is_refused() -> None:
    recipes = "recipe,shade,fibres,ratio,bright\nplain,Plain,wool,30:1,yes\n"

    assert said(pages(recipes=recipes)) == [
        'recipes.csv, line 2, column recipe: "plain" stands there. It has no steps. '
        "Add them to steps.csv."
    ]


def test_recipes_that_ask_for_each_other_are_refused() -> None:
    files = pages(
        recipes="recipe,shade,fibres,ratio,bright\na,Dawn,wool,30:1,no\nb,Dusk,wool,30:1,no\n",
        steps="recipe,no,step,kind\na,1,dye,dye\nb,1,dye,dye\n",
        doses="recipe,step,what,kind,amount\na,dye,Dusk,bath,30 L per kg\n"
        "b,dye,dawn,bath,30 L per kg\n",
    )

    assert said(files) == [
        'doses.csv, line 2, column what: "Dusk" stands there. So the recipe asks for itself. '
        "Write what it is really made with.",
        'doses.csv, line 3, column what: "dawn" stands there. So the recipe asks for itself. '
        "Write what it is really made with.",
    ]


def test_a_stay_after_the_lots_own_is_refused() -> None:
    stays = "lot,since,state,place\nAV-1116,Mon 16 Nov 2026 17:00,fresh,bench\n"

    assert said({**yard_files(), "stays.csv": stays.encode()}) == [
        'stays.csv, line 2, column since: "16 Nov 2026 17:00" stands there. '
        "That is not before the day on the lot's own row. Write an earlier one."
    ]


def test_every_problem_is_listed_not_only_the_first() -> None:
    files = altered("vessels.csv", "60 L,48 L", "much,48 g")

    found = said(files)

    assert len([line for line in found if line.startswith("vessels.csv, line 2")]) == 2


def test_a_row_that_cannot_be_read_still_has_its_name() -> None:
    found = said(altered("vessels.csv", "60 L,48 L", "much,48 L"))

    assert len(found) == 1
    assert found[0].startswith('vessels.csv, line 2, column brim: "much" stands there.')


def test_a_shade_may_be_called_what_its_dyestuff_is() -> None:
    files = pages(
        dyestuffs="dyestuff,piece,fugitive\nmarigold,,no\n",
        recipes="recipe,shade,fibres,ratio,bright\ngold,Marigold,wool,30:1,no\n",
        steps="recipe,no,step,kind,vessels\ngold,1,dye,dye,pot\n",
        doses="recipe,step,what,kind,amount\ngold,dye,marigold,dyestuff,100 %\n",
    )

    assert said(files) == []
