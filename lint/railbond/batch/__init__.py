"""Many plans at once: on all cores, and from a cache what nothing has changed."""
