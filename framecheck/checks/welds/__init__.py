"""Welded joints: fillet groups in space, stitches, plugs and spots."""
