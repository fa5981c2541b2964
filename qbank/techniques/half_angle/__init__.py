"""Fractions of sines and cosines: u is a cosine, a sine or a tangent, or t is the tangent of half the angle."""
