"""Which connections of alike sides belong together, and in what they differ."""
