"""The command line: reads arguments, calls the package, prints, and sets the exit code.

It knows no rule and no page: whatever is worth computing is computed below it.
"""
