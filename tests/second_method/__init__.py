"""The same question answered by a second, independent method, and the answers compared."""
