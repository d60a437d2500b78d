"""The control circuit of a record: terminals, conductors, contacts, loads, and the paths of the water.

It knows how things are joined, not which state they are in and not whether that is right.
"""
