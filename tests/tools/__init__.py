"""What the tests stand on: skips, tools of the machine, the generated module table."""
