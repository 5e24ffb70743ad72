"""The ground: frozen values that every room speaks; no files, no clock, no drawing."""
