"""Closing: the figures of an edition, moved to its step together so that every sum holds.

In: a `Reading` and the name of an edition.  Out: `Closed`: a `Model` whose printed figures add
up exactly, and a table of each figure, why it moved, and every demand that was kept.
"""
