"""What can go wrong with a recipe."""

from __future__ import annotations

from inventory.errors import LarderError
from inventory.science.saying import say


class NoSuchRecipe(LarderError):
    """A code that no recipe of the studio has."""

    code = "no_such_recipe"

    def __init__(self, recipe: str) -> None:
        self.recipe = recipe
        super().__init__(say("No recipe has the code {recipe}. Write it first.", recipe=recipe))


class RecipeThere(LarderError):
    """A recipe written as new whose code is taken."""

    code = "recipe_there"

    def __init__(self, recipe: str) -> None:
        self.recipe = recipe
        super().__init__(
            say(
                "There is a recipe {recipe} already. Change that one, or give the new one a "
                "code of its own.",
                recipe=recipe,
            )
        )


class RecipeChanged(LarderError):
    """A recipe of which somebody wrote another version meanwhile."""

    code = "recipe_changed"

    def __init__(self, recipe: str, *, version: int) -> None:
        self.recipe, self.version = recipe, version
        super().__init__(
            say(
                "Somebody wrote version {version} of {recipe} meanwhile. Look at it, and write "
                "yours once more if it is still wanted.",
                version=version,
                recipe=recipe,
            )
        )
