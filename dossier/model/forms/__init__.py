"""The forms of a build folder, one file a subject: each record is a frozen dataclass whose fields say what they hold and who may see it."""
