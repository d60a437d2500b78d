"""Both sites written to disk: page files, caches, the index that the finder searches.

It knows which pages exist and where they go, not what they say.
"""
