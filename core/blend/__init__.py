"""The blend: sources and demands, the fit, and the choice a grower would make."""
