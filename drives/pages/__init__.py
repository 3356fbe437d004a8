"""The pages of drives: thin views, each one loader, one action, one response."""
