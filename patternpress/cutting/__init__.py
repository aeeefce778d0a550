"""Cutting: from parts to lists, and to how much stock is enough.

In: a worked design.  Out: rows of the cutting list as text and CSV, and stock to buy.
"""
