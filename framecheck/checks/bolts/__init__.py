"""Bolted joints: groups in any plane, slip, holes, prying, tightening, pinned sleeves."""
