"""What each page shows, as plain data; here electrical meaning and drawings meet.

It knows no HTML and no file.
"""
