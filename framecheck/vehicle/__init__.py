"""Masses, wheels, suspension, driveline and load cases: what the vehicle does to its frame."""
