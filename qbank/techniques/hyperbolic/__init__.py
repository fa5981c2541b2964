"""Powers and products of hyperbolic functions: the circular families with other signs, and exponentials."""
