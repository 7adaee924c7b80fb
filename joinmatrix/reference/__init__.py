"""Published tables that the checks use, each with its source."""
