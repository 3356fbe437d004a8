"""What receivers ask, what goes against it, and what is usually minded."""
