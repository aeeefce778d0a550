"""Measuring the finished PDF, without a line of the code that wrote it.

In: the bytes of a booklet, and if there are any the facts of its design.  Out: a report: what was
measured, how far it was out at the worst and where, and every finding.
"""
