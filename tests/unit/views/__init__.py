"""Unit tests of `generator.views`."""
