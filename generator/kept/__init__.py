"""Results kept from one run to the next: stored by what they were made from, and made again wherever there is any doubt.

It must not know what a result means, nor who asks for it.
"""
