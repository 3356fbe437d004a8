"""The yarn store, and the yarn of a blanket."""
