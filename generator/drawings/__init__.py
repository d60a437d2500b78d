"""SVG pictures drawn from their own plain input data.

It knows nothing electrical: no record, no circuit, no state. What a line means is decided where its input is made.
"""
