"""The frozen description of a frame, its vehicle, its joints and what is asked of it. SI units throughout."""
