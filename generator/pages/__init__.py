"""The HTML of a page, from its view and the templates.

It knows no circuit and writes no file.
"""
