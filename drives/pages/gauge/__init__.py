"""How each member knits."""
