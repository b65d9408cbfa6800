"""A hole between two pressures: its flow, stated as flow meters do, and its size."""

import math
from dataclasses import dataclass

from baycalc.physics.air import GAS_CONSTANT
from baycalc.physics.gas import volume_flow_at
from baycalc.physics.orifice import circle_area, circle_diameter, flow_function, sharp_coefficient


@dataclass(frozen=True, slots=True)
class BothSides:
    """Air on both sides of a hole, and how its flow is stated.

    Parameters
    ----------
    upstream : float
        Absolute pressure before the hole [Pa]
    downstream : float
        Absolute pressure behind it [Pa]
    temperature : float
        Temperature before it [K]
    reference : float
        Temperature that the volume flow is stated at [K]
    given : float
        Discharge coefficient, or ``None`` for that of a sharp edge [-]
    """

    upstream: float
    downstream: float
    temperature: float
    reference: float
    given: float | None = None

    def coefficient(self) -> float:
        """Return the discharge coefficient [-]."""
        if self.given is not None:
            return self.given
        return sharp_coefficient(self.downstream / self.upstream)

    def leak(self, area: float) -> float:
        """Return the flow through an area as pressure times volume.

        Parameters
        ----------
        area : float
            Area of the hole [m2]

        Returns
        -------
        float
            Leak, at the temperature before the hole [Pa m3/s]
        """
        speed = math.sqrt(GAS_CONSTANT * self.temperature)
        ideal = flow_function(self.downstream / self.upstream)
        return self.coefficient() * area * self.upstream * ideal * speed

    def flow(self, diameter: float) -> float:
        """Return the volume flow at the reference through a round hole.

        Parameters
        ----------
        diameter : float
            Diameter of the hole [m]

        Returns
        -------
        float
            Volume flow [m3/s]
        """
        return volume_flow_at(self.leak(circle_area(diameter)), self.temperature, self.reference)

    def diameter(self, flow: float) -> float:
        """Return the diameter of the hole that passes a volume flow at the reference.

        Parameters
        ----------
        flow : float
            Volume flow [m3/s]

        Returns
        -------
        float
            Diameter [m]
        """
        whole = volume_flow_at(self.leak(1.0), self.temperature, self.reference)
        return circle_diameter(flow / whole)
