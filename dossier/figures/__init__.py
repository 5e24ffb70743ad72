"""Derived figures, one file a subject; arithmetic only."""
