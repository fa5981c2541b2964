"""The exact number system: quotients of polynomials in generators that are tied by known relations.

field.py          elements: quotients of polynomials, reduced by the relations of their generators; cost bounds
signs.py          which factors are positive; what even roots say about products of signs
factors.py        an element as a number times powers of irreducible factors, each with a size and a sign
units.py          the finest multiple that a generator is made for
usual_angles.py   cosine and sine of the usual multiples of pi
circular.py       circular functions and their inverses
system.py         the number system: powers, exponentials, logarithms, and all of the above
patterns.py       a difference with signs left over: is it zero for every pattern of signs that occurs?
quotients.py      quotients of polynomials that are never reduced, in one fixed ring
unreduced.py      a quick number system of those, which shows most identities and says nothing of the others
shown.py          two sides put to the quick system, which may be kept for more questions
normal_form.py    one question put to the system, again with finer units where needed
"""
