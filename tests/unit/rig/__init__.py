"""The shop's own measurement: rigs, readings, fits."""
