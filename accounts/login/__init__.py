"""Signing up and signing in: how allauth meets our people."""
