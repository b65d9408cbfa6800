"""Groups of inputs on a form: what comes first and stands open, what is folded."""

GROUPS = {
    "question": "What to find",
    "measured": "What was measured",
    "record": "Columns and units of the record",
    "limits": "Limits and the vehicle's figures",
    "part": "The part and its circuit",
    "place": "Place and surroundings",
    "gauge": "Gauge or meter",
}
"""Groups with their headings, in the order in which they are shown."""

OPEN_GROUPS = ("question", "measured", "limits")
"""Groups that stand open at first."""

_USUAL = {
    "question": "find known reduction side seen_as fuel fuel_hydrogen fuel_oxygen banks entry hose "
    "item limit_by duty",
    "limits": "least_flow allowed_error stop limit_hole allowed_trim limit limit_is model_year "
    "programme_allows band_supply stall_current run_limit cool_limit cool hot_limit hot "
    "making_limit driver_limit allowed_drop allowed_time allowed_leak feed_allowed "
    "return_allowed certified registered low_class",
    "part": "burns ratio tank fill extra_volume volume_uncertainty fresh_air shape starts style "
    "fitted conductor insulation length derating own_share own_factor coefficient_from "
    "coefficient pulse_share pull_in pull_in_temperature coil_rise original_coil "
    "original_suppression original_terminals rest_contact_used volume_from volume hose_bore "
    "hose_length actuator_volume feed_conductor feed_length feed_joints return_conductor "
    "return_length return_joints joint_resistance",
    "place": "barometer_from altitude barometer outside_temperature temperature temperature_drift "
    "drift_uncertainty ambient supply source_resistance sensor_temperature coil_temperature "
    "temperature_error low_supply positive_terminal",
    "record": "time_column signal_column time_unit signal_unit",
    "gauge": "air_uncertainty reading_error carbon_of_hydrocarbons analyser meter_error "
    "error_of_reading extra_uncertainty flow_uncertainty reference age_error "
    "distance_error",
}

USUAL_GROUP = {name: group for group, names in _USUAL.items() for name in names.split()}
"""Group of an input by its id, where a calculator names no other; else it was measured."""
