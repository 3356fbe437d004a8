"""Pages of a drive and its meetings."""
