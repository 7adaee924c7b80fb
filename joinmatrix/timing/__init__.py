"""Rule words to constraints, the temporal network, and the judging of the record."""
