"""Making booklets, apart from all else that the desk does.

In: a reading of a sound design, and an edition.  Out: files.  This module brings in the PDF
engine, which takes half a second and needs libraries of the system; so only the command that
builds loads it, and the others work without.
"""

from __future__ import annotations

from patternpress.booklet.build import PressError, build_corrected, build_cut_files, build_edition

__all__ = ["PressError", "build_corrected", "build_cut_files", "build_edition"]
