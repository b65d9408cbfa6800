"""Every quantity that physics and calculators take: its symbol, its name, its unit.

An entry holds the names of the arguments that it stands for. Choices, ticks and texts have no
symbol and are not here.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Symbol:
    """One line of the nomenclature.

    Parameters
    ----------
    symbol : str
        As formulas write it
    name : str
        What it means
    units : tuple
        Its SI unit, or its units where it depends on the quantity; ``-`` for none [-]
    arguments : tuple
        Names of the arguments in the code; none where it stands in formulas only [-]
    """

    symbol: str
    name: str
    units: tuple[str, ...]
    arguments: tuple[str, ...] = ()


_PRESSURES = (
    Symbol("p", "absolute pressure", ("Pa",), ("pressure", "value_pressure")),
    Symbol("p₀", "absolute pressure before a hole", ("Pa",), ("upstream",)),
    Symbol("p_b", "absolute pressure behind a hole", ("Pa",), ("downstream",)),
    Symbol("p_i", "pressure or vacuum inside a volume", ("Pa",), ("inside",)),
    Symbol("p_o", "absolute pressure outside a volume", ("Pa",), ("outside",)),
    Symbol("p₁", "pressure or vacuum at the start", ("Pa",), ("start",)),
    Symbol("p₂", "pressure or vacuum at the end", ("Pa",), ("end",)),
    Symbol("p_s", "pressure or vacuum where a check stops", ("Pa",), ("stop",)),
    Symbol("p_a", "pressure of the air around", ("Pa",), ("barometer", "seen")),
    Symbol("p_r", "pressure reduced to sea level", ("Pa",), ("report", "setting")),
    Symbol("p_m", "vacuum in the manifold", ("Pa",), ("manifold_vacuum",)),
    Symbol("p_v", "pressure of the vapor space", ("Pa",), ("value_vapour_pressure",)),
    Symbol("ṗ_v", "rise of pressure by fuel vapor", ("Pa/s",), ("vapour_rise",)),
    Symbol("p_lim", "limit of a pressure or vacuum", ("Pa",), ("limit",)),
    Symbol("Δp_lim", "greatest fall of a vacuum", ("Pa",), ("allowed_drop",)),
    Symbol("r", "pressure ratio, behind over before", ("-",)),
    Symbol("r*", "critical pressure ratio", ("-",)),
)
_GASES = (
    Symbol("R", "specific gas constant", ("J/(kg K)",), ("gas_constant",)),
    Symbol("R_m", "molar gas constant", ("J/(mol K)",)),
    Symbol("k", "ratio of the heat capacities", ("-",), ("heat_capacity_ratio",)),
    Symbol("ρ", "density", ("kg/m3",)),
    Symbol("T", "temperature", ("K",), ("temperature", "value_temperature")),
    Symbol("T₁", "temperature before", ("K",), ("first",)),
    Symbol("T₂", "temperature now", ("K",), ("now",)),
    Symbol("T_ref", "temperature that a volume is stated at", ("K",), ("reference_temperature",)),
    Symbol("T_o", "temperature outside", ("K",), ("outside_temperature",)),
    Symbol("ΔT", "rise of temperature during a hold", ("K",), ("temperature_drift",)),
    Symbol("h", "altitude above sea level", ("m",), ("altitude",)),
)
_FLOWS = (
    Symbol("C", "discharge coefficient", ("-",), ("coefficient",)),
    Symbol("C₀", "discharge coefficient at small differences", ("-",), ("still_coefficient",)),
    Symbol("f", "pull of the gas on the wall around a hole", ("-",)),
    Symbol("m", "mass flow", ("kg/s",), ("value_air_flow",)),
    Symbol("q", "volume flow at a reference", ("m3/s",), ("flow",)),
    Symbol("Q", "leak: pressure times volume per time", ("Pa m3/s",), ("leak",)),
    Symbol("Q_lim", "greatest leak", ("Pa m3/s",), ("allowed_leak",)),
    Symbol("V", "volume", ("m3",), ("volume",)),
    Symbol("V_c", "volume of a chamber", ("m3",), ("actuator_volume",)),
    Symbol("V_t", "volume of a full tank", ("m3",), ("tank",)),
    Symbol("V_x", "volume of pipes and canister", ("m3",), ("extra_volume",)),
    Symbol("φ", "fill of a tank", ("-",), ("fill",)),
    Symbol("A", "area, cross-section", ("m2",), ("area", "conductor")),
    Symbol("A_f", "cross-section of a feed", ("m2",), ("feed_conductor",)),
    Symbol("A_r", "cross-section of a return", ("m2",), ("return_conductor",)),
    Symbol("d", "diameter", ("m",), ("diameter", "hole", "hose_bore")),
    Symbol("l", "length", ("m",), ("length", "hose_length")),
    Symbol("l_f", "length of a feed", ("m",), ("feed_length",)),
    Symbol("l_r", "length of a return", ("m",), ("return_length",)),
    Symbol("t", "time", ("s",), ("time",)),
    Symbol("t_lim", "time that a limit is stated for", ("s",), ("allowed_time", "run_limit")),
    Symbol("t_run", "time that a motor runs in one go", ("s",), ("run_time",)),
    Symbol("t_end", "time of the last point of a curve", ("s",), ("until",)),
)
_MIXTURES = (
    Symbol("λ", "air over the air that the fuel needs", ("-",), ("mixture", "value_lambda_value")),
    Symbol("λ_b", "lambda behind an injection of air", ("-",), ("lambda_after",)),
    Symbol("λ_s", "lambda of the car's front sensor", ("-",), ("sensor_lambda",)),
    Symbol("λ_min", "least lambda allowed", ("-",), ("lambda_low",)),
    Symbol("λ_max", "greatest lambda allowed", ("-",), ("lambda_high",)),
    Symbol("a", "air added per air of the engine", ("-",), ("added",)),
    Symbol("L", "stoichiometric ratio; also a ratio or share", ("-",), ("ratio", "value_share")),
    Symbol("m_e", "air flow of an engine", ("kg/s",), ("engine_air", "air_flow")),
    Symbol("m_c", "air flow of an engine at cruise", ("kg/s",), ("cruise_air_flow",)),
    Symbol("m_p", "air flow of a pump", ("kg/s",), ("pump_air",)),
    Symbol("m_min", "least air flow of a pump", ("kg/s",), ("least_flow",)),
    Symbol("y", "hydrogen per carbon of a fuel", ("-",), ("hydrogen", "fuel_hydrogen")),
    Symbol("z", "oxygen per carbon of a fuel", ("-",), ("fuel_oxygen",)),
    Symbol("K₁", "carbon per molecule of HC", ("-",), ("carbon_of_hydrocarbons",)),
    Symbol("K", "constant of the water gas reaction", ("-",), ("water_gas",)),
    Symbol("CO", "carbon monoxide, by volume", ("-",), ("carbon_monoxide",)),
    Symbol("CO₂", "carbon dioxide, by volume", ("-",), ("carbon_dioxide",)),
    Symbol("O₂", "oxygen, by volume or per carbon", ("-",), ("oxygen", "oxygen_after")),
    Symbol("HC", "hydrocarbons as hexane, by volume", ("-",), ("hydrocarbons",)),
    Symbol("NO", "nitric oxide, by volume", ("-",), ("nitric_oxide",)),
    Symbol("x", "fresh air in a sample", ("-",), ("fresh_air",)),
    Symbol("U_f", "voltage of a front oxygen sensor", ("V",), ("front_high", "front_low")),
    Symbol("U_r", "voltage of a rear oxygen sensor", ("V",), ("rear_high", "rear_low")),
    Symbol(
        "N_λ",
        "crossings of the middle by an oxygen sensor",
        ("-",),
        ("front_switches", "rear_switches"),
    ),
    Symbol("w_lim", "greatest share of the rear swing", ("-",), ("greatest_share",)),
    Symbol("t_d", "delay of a rear sensor", ("s",), ("delay",)),
    Symbol("m_O", "least oxygen that a catalyst must store", ("kg",), ("least_oxygen",)),
)
_TRIMS = (
    Symbol(
        "s",
        "short fuel trim",
        ("-",),
        ("idle_short_1", "idle_short_2", "cruise_short_1", "cruise_short_2"),
    ),
    Symbol(
        "b",
        "long fuel trim",
        ("-",),
        ("idle_long_1", "idle_long_2", "cruise_long_1", "cruise_long_2"),
    ),
    Symbol("τ", "total fuel trim", ("-",), ("trim_before", "trim_after", "value_trim")),
    Symbol("τ_lim", "greatest total trim", ("-",), ("allowed_trim",)),
    Symbol("Δs", "swing of the short trim", ("-",), ("swing",)),
)
_MEASURES = (
    Symbol("x_r", "reading", ("Pa",), ("reading",)),
    Symbol("u", "standard uncertainty", ("Pa",), ("extra_uncertainty",)),
    Symbol("U", "expanded uncertainty, k = 2", ("Pa",)),
    Symbol("S", "span of a gauge", ("Pa",), ("gauge_span",)),
    Symbol("δ", "step that can be read", ("Pa",), ("gauge_resolution",)),
    Symbol("δ_m", "step of a meter", ("A", "V", "ohm"), ("meter_step", "clamp_step")),
    Symbol(
        "e",
        "greatest error as a share",
        ("-",),
        ("meter_error", "clamp_error", "error_of_reading", "air_uncertainty", "flow_uncertainty",
         "volume_uncertainty"),
    ),
    Symbol("e_p", "greatest error of a pressure", ("Pa",), ("allowed_error",)),
    Symbol("e_x", "greatest error of a reading in its own measure", ("-",), ("reading_error",)),
    Symbol("e_T", "greatest error of a temperature", ("K",), ("temperature_error",
                                                              "drift_uncertainty")),
    Symbol(
        "e_t", "greatest error of a time", ("s",), ("age_error", "delay_error", "time_error")
    ),
    Symbol("e_r", "greatest error of a sensor as a share", ("-",), ("scale_error",)),
    Symbol("t_p", "part of a record, from and to", ("s",), ("part_start", "part_end")),
    Symbol("t_90", "greatest time from 10 to 90 %", ("s",), ("slowest",)),
    Symbol("N_10", "least switches in ten seconds", ("-",), ("fewest",)),
    Symbol("e_λ", "greatest error of a lambda", ("-",), ("mixture_error",)),
    Symbol("e_s", "greatest error of a distance", ("m",), ("distance_error",)),
)  # fmt: skip
_ELECTRICAL = (
    Symbol("I", "current", ("A",), ("current", "load", "value_current")),
    Symbol("I_min", "least current allowed", ("A",), ("current_low",)),
    Symbol("I_max", "greatest current allowed", ("A",), ("current_high",)),
    Symbol("Î", "peak of a current", ("A",), ("inrush", "peak")),
    Symbol("I_st", "current at standstill", ("A",), ("stall_current",)),
    Symbol("I_n", "rated current of a fuse", ("A",), ("rating", "needed", "fitted")),
    Symbol("I_c", "greatest contact current at a temperature", ("A",), ("cool_limit", "hot_limit")),
    Symbol("I_on", "greatest current that a contact switches on", ("A",), ("making_limit",)),
    Symbol("I_d", "greatest current of a driver", ("A",), ("driver_limit",)),
    Symbol("f_d", "share of its rating that a fuse may carry", ("-",), ("own_share", "own_factor")),
    Symbol("n", "current as a multiple of the rating", ("-",), ("multiple",)),
    Symbol("t_in", "time of an inrush", ("s",), ("inrush_time",)),
    Symbol("U_s", "supply voltage", ("V",), ("supply", "band_supply", "low_supply")),
    Symbol("U_v", "voltage", ("V",), ("voltage", "value_voltage", "pull_in")),
    Symbol("ΔU", "voltage drop measured", ("V",), ("feed_measured", "return_measured")),
    Symbol(
        "ΔU_lim", "greatest voltage drop", ("V",), ("feed_allowed", "return_allowed", "allowed")
    ),
    Symbol("R_e", "resistance", ("ohm",), ("resistance",)),
    Symbol("R_min", "least resistance allowed", ("ohm",), ("resistance_low",)),
    Symbol("R_max", "greatest resistance allowed", ("ohm",), ("resistance_high",)),
    Symbol("R_c", "resistance of a coil", ("ohm",), ("original_coil", "other_coil")),
    Symbol(
        "R_x",
        "resistance of leads, joints or source",
        ("ohm",),
        ("lead_resistance", "joint_resistance", "source_resistance"),
    ),
    Symbol("A_c", "cross-section of a conductor that is there", ("m2",), ("fitted",)),
    Symbol("N_h", "humps of a current that were counted", ("-",), ("humps",)),
    Symbol("N_s", "segments of a commutator", ("-",), ("segments",)),
    Symbol("I_h", "height of a hump of a current", ("A",), ("highest", "lowest")),
    Symbol("n_p", "speed of a motor, limits", ("1/s",), ("speed_low", "speed_high")),
    Symbol("N_j", "number of contacts in a line", ("-",), ("feed_joints", "return_joints")),
    Symbol("α", "change of resistance per kelvin", ("1/K",), ("coefficient",)),
    Symbol("AWG", "American wire gauge size", ("-",), ("size",)),
    Symbol("D", "share of the time that a heater is on", ("-",), ("pulse_share",)),
    Symbol("T_a", "temperature of the air around a part", ("K",), ("ambient",)),
    Symbol(
        "T_c",
        "temperature of a coil, sensor or contact",
        ("K",),
        ("coil_temperature", "sensor_temperature", "pull_in_temperature", "measured_at",
         "stated_at", "cool", "hot"),
    ),
    Symbol("ΔT_c", "rise of a coil by its own power", ("K",), ("coil_rise",)),
)  # fmt: skip
_RECORDS = (
    Symbol("t_v", "age of a vehicle", ("s",), ("age",)),
    Symbol("s_v", "distance on the odometer", ("m",), ("distance",)),
    Symbol("v", "speed of a vehicle", ("m/s",), ("value_vehicle_speed",)),
    Symbol("n_e", "speed of an engine", ("1/s",), ("value_engine_speed",)),
    Symbol("θ", "ignition timing", ("rad",), ("value_timing",)),
    Symbol("Y", "model year", ("-",), ("model_year",)),
    Symbol("N_c", "number of codes", ("-",), ("code_count",)),
    Symbol("N_a", "monitors that may stay incomplete", ("-",), ("programme_allows",)),
)
_TABLES = (Symbol("ξ", "where a table is read", ("-",), ("x",)),)

NOMENCLATURE: tuple[tuple[str, tuple[Symbol, ...]], ...] = (
    ("Pressure and vacuum", _PRESSURES),
    ("Gas", _GASES),
    ("Holes, volumes and flow", _FLOWS),
    ("Mixture and exhaust", _MIXTURES),
    ("Fuel trims", _TRIMS),
    ("Measurement", _MEASURES),
    ("Electrical", _ELECTRICAL),
    ("Vehicle and scan tool", _RECORDS),
    ("Tables", _TABLES),
)
"""All of it, by subject: heading and lines."""
