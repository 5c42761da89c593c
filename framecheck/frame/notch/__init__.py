"""How much softer a notch is than its net section over its own length (docs/theory/notch_softness.md)."""
