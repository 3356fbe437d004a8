"""The only code that changes drives and blankets: one function, one transaction, one event."""
