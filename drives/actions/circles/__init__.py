"""What a circle keeps beside its drives: days away and meetings, calendars, letters."""
