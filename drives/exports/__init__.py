"""Tables, calendars and pictures to take away."""
