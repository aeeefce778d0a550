"""Draw what was worked out.

In: shapes and models with exact sizes in mm, y upwards.  Out: SVG text in mm, in which every
curve is true to a stated error and every number is written by one function.
"""
