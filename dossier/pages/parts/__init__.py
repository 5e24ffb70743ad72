"""What pages are made of: numbers, tables, plots, pictures."""
