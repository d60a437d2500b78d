"""Laws that every record and every solution must obey, tried on records made at random."""
