"""The frozen model: the merging of lists, the ports, and where each connection stands."""
