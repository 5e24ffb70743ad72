"""As built against declared: each decision rule with its source, the concessions laid over it, and what a dossier still lacks."""
