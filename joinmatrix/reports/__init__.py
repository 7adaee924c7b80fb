"""A result in, text or bytes out; nothing here writes a file or knows how a finding was reached."""
