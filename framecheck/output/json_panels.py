"""What panels carry, as plain values: SI, the unit in each key."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from framecheck.frame.panel.results import PanelForces
from framecheck.frame.results import FrameSolution

Record = dict[str, Any]


def panels_of(solution: FrameSolution) -> Iterator[Record]:
    """Yield what each panel carries in each load case."""
    for name, panel in solution.panels.items():
        energies, flows, worst = solution.panel_energies[name], panel.shear_flow(), panel.equivalent()
        for number, case in enumerate(solution.cases):
            yield {
                "panel": name,
                "load_case": case,
                "bound": solution.bound.name,
                "shear_flow_n_per_m": float(flows[number]),
                "equivalent_stress_pa": float(worst[number]),
                "energy_j": float(energies[number]),
                "axes": panel.axes.tolist(),
                "pieces": list(pieces_of(panel, number)),
            }


def pieces_of(panel: PanelForces, case: int) -> Iterator[Record]:
    """Yield the pieces of a panel with the principal stresses where each is worst, Pa, and the mean forces per length."""
    stresses = panel.principal()[:, :, case] / panel.thickness
    means = panel.forces[:, :, case].mean(axis=1)
    for corners, stress, mean in zip(panel.corners, stresses, means, strict=True):
        yield {
            "corners_m": corners.tolist(),
            "greatest_principal_stress_pa": float(stress[:, 0].max()),
            "least_principal_stress_pa": float(stress[:, 1].min()),
            "force_along_n_per_m": float(mean[0]),
            "force_across_n_per_m": float(mean[1]),
            "shear_flow_n_per_m": float(mean[2]),
        }

