"""Many rows read at once. Nothing here writes."""
