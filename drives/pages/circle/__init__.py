"""Pages of a circle: its drives, who is away, calendars, letters."""
