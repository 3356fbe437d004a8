"""Grams, metres and hours."""
