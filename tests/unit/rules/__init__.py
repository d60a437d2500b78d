"""Unit tests of `generator.rules`."""
