"""The colours of a blanket."""
