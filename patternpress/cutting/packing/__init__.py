"""Packing: rectangles on boards, as few or as cheap as can be found, with a proved bound.

In: boards and kinds of pieces in whole units, the saw's width already added to each.  Out: where
every piece lies.  Nothing here knows of parts, grain or millimetres.
"""
