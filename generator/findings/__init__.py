"""What is wrong in a record, as values: places, severities, findings, and the errors of the tool itself.

Must not know records, circuits, rules or pages: everything else stands on this package.
"""
