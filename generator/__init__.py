"""The public names of Hearthbook, and nothing else.

What other programs may rely on is listed in `__all__`, and a test compares that list with a stored one.
Everything else in the package may move.
"""

__version__ = "0.1.0"

__all__ = ["__version__"]
