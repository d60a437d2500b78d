"""The code, the papers and the wheel: what must be true of the project itself."""
