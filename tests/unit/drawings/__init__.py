"""Unit tests of `generator.drawings`."""
