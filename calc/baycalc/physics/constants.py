"""Temperatures that physics counts from."""

ICE_POINT = 273.15
"""0 °C [K]."""

ROOM = 293.15
"""20 °C, where resistances and volumes are stated [K]."""
