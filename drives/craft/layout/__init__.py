"""Where squares lie, what each stands on, and how each is cast on, picked up and knitted."""
