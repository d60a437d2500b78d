"""What can fail in a house, as changes to its circuit and its water side, and what each failure does in every state.

It must not know who asks: neither tenants nor engineers, neither steps nor likelihoods.
"""
