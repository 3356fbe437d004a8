"""A square’s card and what is done with it."""
