"""Ranges, outliers and Student’s t."""
