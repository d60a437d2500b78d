"""Unit tests of `generator.command`."""
