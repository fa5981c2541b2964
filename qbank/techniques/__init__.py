"""The techniques of integration, one file each, and the planner that chooses among them."""
