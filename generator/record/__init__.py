"""One property's record as it is written: YAML read with positions, checked, house types and short ways expanded.

It knows what is written and where, not what the wiring does.
"""
