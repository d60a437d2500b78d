"""Unit tests of `generator.findings`."""
