"""Pieces: begun, joined and parted, waited for, handed over, lost."""
