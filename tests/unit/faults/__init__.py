"""Single faults, module by module."""
