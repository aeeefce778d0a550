"""Put the piece together.

In: a Design whose sizes are exact.  Out: a Model, where every part has its shape and every
piece has a place.

`shape` says what a flat part is and what an author may ask of it; `trim` cuts the one from
the other; `outlines` measures and turns outlines; `soundness` finds what a saw could not do.
"""
