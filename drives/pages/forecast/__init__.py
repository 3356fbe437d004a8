"""When a blanket will be done, and where to cut it."""
