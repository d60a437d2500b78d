"""What a tenant may do while something has failed: searched over the solved circuit, and proved before it is said.

It must not know how anything is worded, for a tenant or for an engineer.
"""
