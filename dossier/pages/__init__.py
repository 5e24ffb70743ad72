"""Edition in, pages out: one file a page."""
