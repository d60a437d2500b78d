"""Unit tests of `generator.kept`."""
