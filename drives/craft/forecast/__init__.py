"""A blanket played through to its end: paces, runs, what holds it up, where to cut it."""
