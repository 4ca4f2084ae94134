"""From a recipe to what stands in the bottle, and what must be said about it."""
