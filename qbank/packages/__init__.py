"""Packages read back: opened safely, recovered, verified.

    file --open_package--> Package (members) --read back--> Question, Question, ... --prove--> Finding, ...

What is opened here may come from anybody. Nothing is unpacked onto the disk, every size is bounded before it is
read, and nothing that a package says of itself is believed: what it claims is proved again from what a student sees.
"""
