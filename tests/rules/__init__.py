"""Each rule on the records that break it, and on those that must not."""
