"""The built sites in a real browser."""
