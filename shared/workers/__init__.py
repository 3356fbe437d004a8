"""Work that is done later: how workers are told of it, and which of several does it.

The queue, the scheduler, leases, whether work stands still, and handing e-mail to its server.
What the work is, the apps know.
"""
