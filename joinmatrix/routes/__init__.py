"""Routes through runs and connections, as designed and as made; swaps; the way of a port."""
