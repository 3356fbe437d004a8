"""The pages of people and circles: thin views, each one loader, one action, one response."""
