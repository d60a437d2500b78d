"""Everything that must hold. `python -m tests` runs all of it; DEVELOPERS.md says what each folder is for."""
