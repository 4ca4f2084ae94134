"""The names of recipes."""

from labelkit.chemistry.numbers import quoted
from labelkit.errors import BadInput

__all__ = ["recipe_name"]


def recipe_name(text: str) -> str:
    """The name of a recipe: that of its file, without ``.toml``.

    Raises:
        BadInput: it is empty, or leads out of the folder of recipes.
    """
    name = text.strip().removesuffix(".toml")
    if not name or set(name) & set("/\\:") or name.startswith("."):
        raise BadInput(
            f"{quoted(text)} is no name of a recipe",
            remedy="Write the name of its file without .toml, such as pyro-a.",
        )
    return name
