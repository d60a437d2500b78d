"""The kinds of device: terminals, contacts, loads, travel times, ratings, and what a lever or button does.

It knows no property and no wiring: only what a device is by itself.
"""
