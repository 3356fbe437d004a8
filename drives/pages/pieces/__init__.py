"""Pieces and how they pass from hand to hand."""
