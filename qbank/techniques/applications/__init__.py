"""Questions that a definite integral answers: the integral is set up, with each step proved, and then evaluated.

Asked (curves, limits) --set_up--> SetUp (lines, parts with signs) --work_application--> WorkedApplication
"""
