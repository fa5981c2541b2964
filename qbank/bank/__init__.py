"""Banks of item templates: the file, its schema, the loader with positions, and the deterministic draw."""
