"""Many games as one: finding plays by anything tagged. Knows nothing of Qt."""
