"""Unit tests of `generator.states`."""
