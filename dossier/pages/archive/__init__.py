"""Pages over all builds of an archive, each written from the entries of the builds alone."""
