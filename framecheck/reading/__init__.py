"""Text to model: YAML with positions, units, schema, building."""
