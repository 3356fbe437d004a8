"""What goes in (bodies) and out (shapes) as JSON."""
