"""Which shell element may be the reference of plates that can't draw in: a strip between immovable edges, of a known answer.

S. P. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, chapter 1 (from memory): a long plate bent to a cylinder under
a uniform load, its edges free to turn. w'' D - S w = -M; the sheet is longer by half the integral of w'2, which its tension S makes.
ShellNLDKGQ adds up strains from step to step, and each step leaves an error of its first order: with the 8 load steps of the plates
stored before, S is 7 to 9 % high and w 2 to 5 % low however fine the mesh; half that with every doubling of the steps. ASDShellQ4,
corotational, asks for no history: S within 0.1 % in 4 steps. Run with openseespy 3.7.1.2:

w / t   ShellNLDKGQ, S in 8, 32, 128 steps   ASDShellQ4, S and w in 4 steps (40 elements)
0.30    1.087, 1.021, 1.005                  0.999, 1.000
0.57    1.070, 1.018, 1.004                  0.999, 1.000
1.27    1.070, 1.021, 1.005                  0.999, 1.000
Usage: python large_deflection.py
"""

from __future__ import annotations

import numpy as np
import openseespy.opensees as ops
from scipy.optimize import brentq

YOUNG, POISSON, LENGTH, THICK = 210e3, 0.296, 520.0, 6.0
ELEMENTS = {("ShellNLDKGQ",): ("Newton", (8, 32, 128)), ("ASDShellQ4", "-corotational"): ("KrylovNewton", (4, 16))}


def by_formula(pressure: float) -> tuple[float, float]:
    """Return tension, N/mm, and movement, mm, of the strip."""
    rigid, stiff = YOUNG * THICK**3 / 12 / (1 - POISSON**2), YOUNG / (1 - POISSON**2) * THICK
    x = np.linspace(0, LENGTH, 20001)

    def shape(tension: float) -> np.ndarray:
        k = np.sqrt(tension / rigid)
        bent = 1 - np.cosh(k * (LENGTH / 2 - x)) / np.cosh(k * LENGTH / 2)
        return pressure / tension * x * (LENGTH - x) / 2 - pressure / (tension * k**2) * bent

    def left(tension: float) -> float:
        return float(np.trapezoid(np.gradient(shape(tension), x) ** 2, x)) / 2 - tension * LENGTH / stiff

    found = brentq(left, 1e-3, 1e5)
    return found, float(shape(found).max())


def by_shells(pressure: float, element: tuple[str, ...], steps: int, count: int = 40) -> tuple[float, float]:
    """Return the same by one row of shells."""
    ops.wipe()
    ops.model("basic", "-ndm", 3, "-ndf", 6)
    size = LENGTH / count
    ops.section("ElasticMembranePlateSection", 1, YOUNG, POISSON, THICK, 0.0)
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    for i in range(count + 1):
        for j in (0, 1):
            ops.node(2 * i + j + 1, i * size, j * size, 0.0)
            held = int(i in (0, count))
            ops.fix(2 * i + j + 1, held, 1, held, 1, 0, 1)
            ops.load(2 * i + j + 1, 0, 0, pressure * size**2 / 2, 0, 0, 0)
    for i in range(count):
        ops.element(element[0], i + 1, 2 * i + 1, 2 * i + 3, 2 * i + 4, 2 * i + 2, 1, *element[1:])
    ops.system("UmfPack")
    ops.numberer("RCM")
    ops.constraints("Transformation")
    ops.test("NormDispIncr", 1e-6, 300)
    ops.algorithm(ELEMENTS[element][0])
    ops.integrator("LoadControl", 1 / steps)
    ops.analysis("Static", "-noWarnings")
    if ops.analyze(steps) != 0:
        raise RuntimeError("the strip could not be solved")
    ops.reactions()
    tension = abs(ops.nodeReaction(1, 1) + ops.nodeReaction(2, 1)) / size
    return tension, max(ops.nodeDisp(2 * i + 1, 3) for i in range(count + 1))


def main() -> None:
    """Print tension and movement by each element over those by the formula."""
    for pressure in (0.01, 0.03, 0.2):
        tension, moved = by_formula(pressure)
        for element, (_, every) in ELEMENTS.items():
            for steps in every:
                one, two = by_shells(pressure, element, steps)
                print(f"w/t {moved / THICK:.2f} {element[0]} {steps} steps: S {one / tension:.4f}, w {two / moved:.4f}")


if __name__ == "__main__":
    main()
