"""The measuring room: exact sizes.

In: text that a maker wrote ("1 3/8 in", "shelf depth - 2 * post width").
Out: exact quantities, and figures ready for print. Knows nothing of files or designs.
"""
