"""Every state of a circuit, solved: what is live, what runs, by which path, and what a meter reads.

It knows what happens, not what was meant and not whether it is right.
"""
