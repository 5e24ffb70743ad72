"""How each kind of log is drawn: one file a kind, each says on which page it stands and what is shown of it."""
