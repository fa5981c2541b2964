"""Help for authors: a bank to start from, a template for an integrand, and what a bank would be better without.

    integrand --letters--> ranges --draws built--> conditions that keep the good draws --> a template, with its clones

Nothing is proposed that was not tried: a suggested template is a bank that was loaded and whose clones were built.
"""
