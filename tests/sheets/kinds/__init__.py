"""Each kind of document."""
