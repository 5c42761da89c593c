"""The 3-D frame: elements, joints, assembly, solution, modes."""
