"""Printed documents, the codes on them, and what finders write."""
