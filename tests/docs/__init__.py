"""The hand-written documentation, held against the program."""
