"""One question a file; each a generator over the assembly that yields findings."""
