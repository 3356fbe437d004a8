"""What yarn is made of, and how that is washed."""
