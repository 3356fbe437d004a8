"""Printed documents, and where the codes on them lead."""
