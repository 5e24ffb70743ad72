"""Cross checks of a build as read: one file a subject; each takes the build with its places and yields problems."""
