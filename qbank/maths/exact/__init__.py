"""The exact number system: quotients of polynomials in generators that are tied by known relations.

field.py     elements: quotients of polynomials, reduced by the relations of their generators; cost bounds
signs.py     which factors are positive; what even roots say about products of signs
factors.py   an element as a number times powers of irreducible factors, each a positive size and a sign
system.py    the number system: powers, exponentials, logarithms, circular and inverse functions
"""
