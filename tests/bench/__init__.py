"""How fast the site is, each figure against a floor that is measured in the same run."""
