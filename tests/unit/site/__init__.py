"""Unit tests of `generator.site`."""
