"""Overrides: the search module by module, on demo houses."""
