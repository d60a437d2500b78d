"""Each module by itself; the folders mirror the package."""
