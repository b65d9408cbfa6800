"""Titles of diagnostic trouble codes and the shape of a code (SAE J2012).

All titles here are from memory: the standard was not at hand.
"""

import re

_SHAPE = re.compile(r"([PBCU])([0-3])([0-9A-F])([0-9A-F]{2})")
_LETTERS = {"P": "powertrain", "B": "body", "C": "chassis", "U": "network"}
_SHARED_OWNERS = {"P": "02", "B": "0", "C": "0", "U": "0"}
_GROUPS = {
    "0": "fuel and air metering, auxiliary emission controls",
    "1": "fuel and air metering",
    "2": "fuel and air metering",
    "3": "ignition system or misfire",
    "4": "auxiliary emission controls",
    "5": "vehicle speed, idle speed, auxiliary inputs",
    "6": "computer and auxiliary outputs",
    "7": "transmission",
    "8": "transmission",
    "9": "transmission",
}

_HEATER_ENDINGS = (
    "HO2S heater control circuit",
    "HO2S heater control circuit low",
    "HO2S heater control circuit high",
)
_SENSORS = [(bank, sensor) for bank in (1, 2) for sensor in (1, 2, 3)]
_SENSOR_ENDINGS = (
    "circuit",
    "circuit low voltage",
    "circuit high voltage",
    "circuit slow response",
    "circuit no activity detected",
    "heater circuit",
)

_PLAIN = """
P0053 HO2S heater resistance (bank 1 sensor 1)
P0054 HO2S heater resistance (bank 1 sensor 2)
P0055 HO2S heater resistance (bank 1 sensor 3)
P0059 HO2S heater resistance (bank 2 sensor 1)
P0060 HO2S heater resistance (bank 2 sensor 2)
P0061 HO2S heater resistance (bank 2 sensor 3)
P0068 MAP/MAF - throttle position correlation
P0069 Manifold absolute pressure - barometric pressure correlation
P0100 Mass or volume air flow circuit
P0101 Mass or volume air flow circuit range/performance
P0102 Mass or volume air flow circuit low input
P0103 Mass or volume air flow circuit high input
P0104 Mass or volume air flow circuit intermittent
P0105 Manifold absolute pressure/barometric pressure circuit
P0106 Manifold absolute pressure/barometric pressure circuit range/performance
P0107 Manifold absolute pressure/barometric pressure circuit low input
P0108 Manifold absolute pressure/barometric pressure circuit high input
P0109 Manifold absolute pressure/barometric pressure circuit intermittent
P0110 Intake air temperature circuit
P0111 Intake air temperature circuit range/performance
P0112 Intake air temperature circuit low input
P0113 Intake air temperature circuit high input
P0114 Intake air temperature circuit intermittent
P0115 Engine coolant temperature circuit
P0116 Engine coolant temperature circuit range/performance
P0117 Engine coolant temperature circuit low input
P0118 Engine coolant temperature circuit high input
P0119 Engine coolant temperature circuit intermittent
P0120 Throttle/pedal position sensor A circuit
P0121 Throttle/pedal position sensor A circuit range/performance
P0122 Throttle/pedal position sensor A circuit low input
P0123 Throttle/pedal position sensor A circuit high input
P0124 Throttle/pedal position sensor A circuit intermittent
P0125 Insufficient coolant temperature for closed loop fuel control
P0126 Insufficient coolant temperature for stable operation
P0127 Intake air temperature too high
P0128 Coolant thermostat (coolant temperature below thermostat regulating temperature)
P0129 Barometric pressure too low
P0170 Fuel trim (bank 1)
P0171 System too lean (bank 1)
P0172 System too rich (bank 1)
P0173 Fuel trim (bank 2)
P0174 System too lean (bank 2)
P0175 System too rich (bank 2)
P0300 Random/multiple cylinder misfire detected
P0400 Exhaust gas recirculation flow
P0401 Exhaust gas recirculation flow insufficient detected
P0402 Exhaust gas recirculation flow excessive detected
P0403 Exhaust gas recirculation control circuit
P0404 Exhaust gas recirculation control circuit range/performance
P0405 Exhaust gas recirculation sensor A circuit low
P0406 Exhaust gas recirculation sensor A circuit high
P0407 Exhaust gas recirculation sensor B circuit low
P0408 Exhaust gas recirculation sensor B circuit high
P0409 Exhaust gas recirculation sensor A circuit
P0410 Secondary air injection system
P0411 Secondary air injection system incorrect flow detected
P0412 Secondary air injection system switching valve A circuit
P0413 Secondary air injection system switching valve A circuit open
P0414 Secondary air injection system switching valve A circuit shorted
P0415 Secondary air injection system switching valve B circuit
P0416 Secondary air injection system switching valve B circuit open
P0417 Secondary air injection system switching valve B circuit shorted
P0418 Secondary air injection system control A circuit
P0419 Secondary air injection system control B circuit
P0420 Catalyst system efficiency below threshold (bank 1)
P0421 Warm up catalyst efficiency below threshold (bank 1)
P0422 Main catalyst efficiency below threshold (bank 1)
P0423 Heated catalyst efficiency below threshold (bank 1)
P0424 Heated catalyst temperature below threshold (bank 1)
P0425 Catalyst temperature sensor (bank 1)
P0426 Catalyst temperature sensor range/performance (bank 1)
P0427 Catalyst temperature sensor low input (bank 1)
P0428 Catalyst temperature sensor high input (bank 1)
P0429 Catalyst heater control circuit (bank 1)
P0430 Catalyst system efficiency below threshold (bank 2)
P0431 Warm up catalyst efficiency below threshold (bank 2)
P0432 Main catalyst efficiency below threshold (bank 2)
P0433 Heated catalyst efficiency below threshold (bank 2)
P0434 Heated catalyst temperature below threshold (bank 2)
P0435 Catalyst temperature sensor (bank 2)
P0436 Catalyst temperature sensor range/performance (bank 2)
P0437 Catalyst temperature sensor low input (bank 2)
P0438 Catalyst temperature sensor high input (bank 2)
P0439 Catalyst heater control circuit (bank 2)
P0440 Evaporative emission system
P0441 Evaporative emission system incorrect purge flow
P0442 Evaporative emission system leak detected (small leak)
P0443 Evaporative emission system purge control valve circuit
P0444 Evaporative emission system purge control valve circuit open
P0445 Evaporative emission system purge control valve circuit shorted
P0446 Evaporative emission system vent control circuit
P0447 Evaporative emission system vent control circuit open
P0448 Evaporative emission system vent control circuit shorted
P0449 Evaporative emission system vent valve/solenoid circuit
P0450 Evaporative emission system pressure sensor/switch
P0451 Evaporative emission system pressure sensor/switch range/performance
P0452 Evaporative emission system pressure sensor/switch low
P0453 Evaporative emission system pressure sensor/switch high
P0454 Evaporative emission system pressure sensor/switch intermittent
P0455 Evaporative emission system leak detected (large leak)
P0456 Evaporative emission system leak detected (very small leak)
P0457 Evaporative emission system leak detected (fuel cap loose/off)
P0458 Evaporative emission system purge control valve circuit low
P0459 Evaporative emission system purge control valve circuit high
P0460 Fuel level sensor A circuit
P0461 Fuel level sensor A circuit range/performance
P0462 Fuel level sensor A circuit low
P0463 Fuel level sensor A circuit high
P0464 Fuel level sensor A circuit intermittent
P0465 EVAP purge flow sensor circuit
P0466 EVAP purge flow sensor circuit range/performance
P0467 EVAP purge flow sensor circuit low
P0468 EVAP purge flow sensor circuit high
P0469 EVAP purge flow sensor circuit intermittent
P0470 Exhaust pressure sensor
P0471 Exhaust pressure sensor range/performance
P0472 Exhaust pressure sensor low
P0473 Exhaust pressure sensor high
P0474 Exhaust pressure sensor intermittent
P0475 Exhaust pressure control valve
P0476 Exhaust pressure control valve range/performance
P0477 Exhaust pressure control valve low
P0478 Exhaust pressure control valve high
P0479 Exhaust pressure control valve intermittent
P0480 Cooling fan 1 control circuit
P0481 Cooling fan 2 control circuit
P0482 Cooling fan 3 control circuit
P0483 Cooling fan rationality check
P0484 Cooling fan circuit over current
P0485 Cooling fan power/ground circuit
P0486 Exhaust gas recirculation sensor B circuit
P0487 Exhaust gas recirculation throttle position control circuit
P0488 Exhaust gas recirculation throttle position control range/performance
P0489 Exhaust gas recirculation control circuit low
P0490 Exhaust gas recirculation control circuit high
P0491 Secondary air injection system insufficient flow (bank 1)
P0492 Secondary air injection system insufficient flow (bank 2)
P0493 Fan overspeed
P0494 Fan speed low
P0495 Fan speed high
P0496 Evaporative emission system high purge flow
P0497 Evaporative emission system low purge flow
P0498 Evaporative emission system vent valve control circuit low
P0499 Evaporative emission system vent valve control circuit high
P0500 Vehicle speed sensor A
P0501 Vehicle speed sensor A range/performance
P0502 Vehicle speed sensor A circuit low
P0503 Vehicle speed sensor A intermittent/erratic/high
P0504 Brake switch A/B correlation
P0505 Idle air control system
P0506 Idle air control system RPM lower than expected
P0507 Idle air control system RPM higher than expected
P2096 Post catalyst fuel trim system too lean (bank 1)
P2097 Post catalyst fuel trim system too rich (bank 1)
P2098 Post catalyst fuel trim system too lean (bank 2)
P2099 Post catalyst fuel trim system too rich (bank 2)
P2177 System too lean off idle (bank 1)
P2178 System too rich off idle (bank 1)
P2179 System too lean off idle (bank 2)
P2180 System too rich off idle (bank 2)
P2181 Cooling system performance
P2187 System too lean at idle (bank 1)
P2188 System too rich at idle (bank 1)
P2189 System too lean at idle (bank 2)
P2190 System too rich at idle (bank 2)
P2191 System too lean at higher load (bank 1)
P2192 System too rich at higher load (bank 1)
P2193 System too lean at higher load (bank 2)
P2194 System too rich at higher load (bank 2)
P2195 O2 sensor signal biased/stuck lean (bank 1 sensor 1)
P2196 O2 sensor signal biased/stuck rich (bank 1 sensor 1)
P2197 O2 sensor signal biased/stuck lean (bank 2 sensor 1)
P2198 O2 sensor signal biased/stuck rich (bank 2 sensor 1)
P2257 Secondary air injection system control A circuit low
P2258 Secondary air injection system control A circuit high
P2259 Secondary air injection system control B circuit low
P2260 Secondary air injection system control B circuit high
P2270 O2 sensor signal biased/stuck lean (bank 1 sensor 2)
P2271 O2 sensor signal biased/stuck rich (bank 1 sensor 2)
P2272 O2 sensor signal biased/stuck lean (bank 2 sensor 2)
P2273 O2 sensor signal biased/stuck rich (bank 2 sensor 2)
P2279 Intake air system leak
P2400 Evaporative emission system leak detection pump control circuit open
P2401 Evaporative emission system leak detection pump control circuit low
P2402 Evaporative emission system leak detection pump control circuit high
P2403 Evaporative emission system leak detection pump sense circuit open
P2404 Evaporative emission system leak detection pump sense circuit range/performance
P2405 Evaporative emission system leak detection pump sense circuit low
P2406 Evaporative emission system leak detection pump sense circuit high
P2407 Evaporative emission system leak detection pump sense circuit intermittent/erratic
P2418 Evaporative emission system switching valve control circuit open
P2419 Evaporative emission system switching valve control circuit low
P2420 Evaporative emission system switching valve control circuit high
P2421 Evaporative emission system vent valve stuck open
P2422 Evaporative emission system vent valve stuck closed
P2430 Secondary air injection system air flow/pressure sensor circuit (bank 1)
P2431 Secondary air injection system air flow/pressure sensor circuit range/performance (bank 1)
P2432 Secondary air injection system air flow/pressure sensor circuit low (bank 1)
P2433 Secondary air injection system air flow/pressure sensor circuit high (bank 1)
P2434 Secondary air injection system air flow/pressure sensor circuit intermittent (bank 1)
P2435 Secondary air injection system air flow/pressure sensor circuit (bank 2)
P2436 Secondary air injection system air flow/pressure sensor circuit range/performance (bank 2)
P2437 Secondary air injection system air flow/pressure sensor circuit low (bank 2)
P2438 Secondary air injection system air flow/pressure sensor circuit high (bank 2)
P2439 Secondary air injection system air flow/pressure sensor circuit intermittent (bank 2)
P2440 Secondary air injection system switching valve stuck open (bank 1)
P2441 Secondary air injection system switching valve stuck closed (bank 1)
P2442 Secondary air injection system switching valve stuck open (bank 2)
P2443 Secondary air injection system switching valve stuck closed (bank 2)
P2444 Secondary air injection system pump stuck on (bank 1)
P2445 Secondary air injection system pump stuck off (bank 1)
P2446 Secondary air injection system pump stuck on (bank 2)
P2447 Secondary air injection system pump stuck off (bank 2)
P2448 Secondary air injection system high air flow (bank 1)
P2449 Secondary air injection system high air flow (bank 2)
P2450 Evaporative emission system switching valve performance/stuck open
P2451 Evaporative emission system switching valve stuck closed
"""


def _heaters() -> dict[str, str]:
    """P0030 to P0032, P0036 to P0038, P0042 to P0044 for bank 1; P0050 to P0064 for bank 2."""
    starts = (30, 36, 42, 50, 56, 62)
    return {
        f"P{start + place:04}": f"{ending} (bank {bank} sensor {sensor})"
        for start, (bank, sensor) in zip(starts, _SENSORS, strict=True)
        for place, ending in enumerate(_HEATER_ENDINGS)
    }


def _sensors() -> dict[str, str]:
    """P0130 to P0147 for bank 1; P0150 to P0167 for bank 2."""
    starts = (130, 136, 142, 150, 156, 162)
    return {
        f"P{start + place:04}": f"O2 sensor {ending} (bank {bank} sensor {sensor})"
        for start, (bank, sensor) in zip(starts, _SENSORS, strict=True)
        for place, ending in enumerate(_SENSOR_ENDINGS)
    }


def _misfires() -> dict[str, str]:
    return {
        f"P03{cylinder:02}": f"Cylinder {cylinder} misfire detected" for cylinder in range(1, 13)
    }


TITLES = {
    **dict(line.split(" ", 1) for line in _PLAIN.strip().splitlines()),
    **_heaters(),
    **_sensors(),
    **_misfires(),
}
"""Title by code."""


def title(code: str) -> str:
    """Return the title of a code, or an empty text where none is known."""
    return TITLES.get(code, "")


def code_problem(code: str) -> tuple[str, str]:
    """Return what is odd about a code, and a hint; both empty where its title is known."""
    if code in TITLES:
        return "", ""
    return f"expected a code with a known title, got {code}", shape(code)


def shape(code: str) -> str:
    """Explain the characters of a code."""
    match = _SHAPE.fullmatch(code)
    if not match:
        return "a code is a letter P, B, C or U, a digit from 0 to 3, and three hex digits"
    letter, owner, group, _ = match.groups()
    return f"{code} is a {_LETTERS[letter]} code {_whose(letter, owner)}{_group(letter, group)}"


def _whose(letter: str, owner: str) -> str:
    if owner == "3":
        return "of a range shared by makers and SAE J2012"
    return "of SAE J2012" if owner in _SHARED_OWNERS[letter] else "of the maker's own"


def _group(letter: str, group: str) -> str:
    return f", {_GROUPS[group]}" if letter == "P" and group in _GROUPS else ""
