"""The shop's own measurement: rigs, what dials should read on them, what they did read, the model fitted to that."""
