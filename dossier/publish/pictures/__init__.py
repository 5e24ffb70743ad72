"""Photographs in, published files out: opened, masked, made smaller, rebuilt from their pixels and kept in a cache."""
