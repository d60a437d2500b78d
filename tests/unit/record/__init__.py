"""Unit tests of `generator.record`."""
