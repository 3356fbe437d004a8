"""What several rooms of pages show."""
