"""Which yarn a square is knitted in."""
