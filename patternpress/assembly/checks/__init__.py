"""Checks of a whole design: each a function from a `Worked` to the problems it finds."""
