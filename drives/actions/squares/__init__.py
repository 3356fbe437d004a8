"""A square’s life: claimed, finished, weighed, measured, ripped back."""
