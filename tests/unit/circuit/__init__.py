"""Unit tests of `generator.circuit`."""
