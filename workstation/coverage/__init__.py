"""The coverage checker: what a viewer knows at each snap, what the film shows, and the findings that follow."""
