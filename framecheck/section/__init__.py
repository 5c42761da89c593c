"""Cross-section properties: outlines, meshed, mid-line theory, net sections, unit stress fields."""
