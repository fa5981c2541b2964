"""The clock of all time budgets: seconds of computing by this thread, so that a busy machine changes no verdict.

What is decided for a bank, once for all its readers, gets far more time than it needs; a response gets little, since
a person waits and may look at the few that stay undecided.
"""

from __future__ import annotations

import time

__all__ = ["PATIENT", "QUICK", "now"]

#: seconds for one decision about a response
QUICK = 1.0
#: seconds for one decision, value or enclosure that worked solutions and items are built from
PATIENT = 10.0

#: seconds of computing by this thread so far
now = time.thread_time
