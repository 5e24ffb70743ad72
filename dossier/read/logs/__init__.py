"""Log kinds: one file a kind, each says its title, columns, what it yields and its faults."""
