"""What actions and pages of every app are made of.

Small files that know nothing of the site, and hardly of each other: transactions, refusals,
limits, and how a thing is said in a row.
"""
