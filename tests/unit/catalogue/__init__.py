"""Unit tests of `generator.catalogue`."""
