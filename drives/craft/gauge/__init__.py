"""How wide a knitter’s stitches are, and what follows from it."""
