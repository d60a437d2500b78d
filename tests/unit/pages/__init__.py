"""Unit tests of `generator.pages`."""
