"""Drives, their receivers’ rules, their blankets from the plan to the gift."""
