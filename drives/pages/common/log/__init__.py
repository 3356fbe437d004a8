"""What the log tells: a sentence for whatever an action notes."""
