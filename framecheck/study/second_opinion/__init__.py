"""A second opinion: what an independent general library makes of the same section, or of the same frame made ideal."""
