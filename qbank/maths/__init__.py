"""The mathematics, alone: trees, reading, notation, deciding, quadrature. Knows nothing of banks or files."""
