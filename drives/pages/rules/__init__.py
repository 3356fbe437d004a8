"""Pages of the receiver’s rules."""
