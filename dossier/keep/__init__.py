"""Tending a build folder: the only room that writes into one, and never over what is there."""
