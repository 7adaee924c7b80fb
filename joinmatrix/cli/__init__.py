"""The command line: options, one library call, an exit code."""
