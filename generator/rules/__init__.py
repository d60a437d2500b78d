"""The rules that a property is held against; each rule is a value and gives findings.

It knows what is right and wrong, not how a finding is shown.
"""
