"""patternpress: one design file in, a printed pattern and instruction booklet out."""

__version__ = "0.1.0"
