"""Who takes which square when: so that the last one is finished as soon as can be."""
