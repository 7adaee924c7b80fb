"""One question a file: gate, next, sequence, sides, trace, changes, sign-off."""
