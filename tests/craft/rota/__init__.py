"""Sharing squares out."""
