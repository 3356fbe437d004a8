"""Which square gets which colour, or why that cannot be."""
