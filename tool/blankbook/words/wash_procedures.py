"""Washing and drying procedures.

Codes are those of ISO 6330 (type A machine) and of the AATCC home-laundering methods; their names
and temperatures are from memory, not read in the standards. A home wash is plain words, and comes
first wherever a person chooses: few shops have the machine of a laboratory.
"""

WASHES: dict[str, str] = {
    "home_cold": "home machine, cold; not to a standard",
    "home_warm": "home machine, warm (about 40 °C); not to a standard",
    "home_hot": "home machine, hot (about 60 °C); not to a standard",
    "iso6330_4N": "ISO 6330, type A machine, 40 °C, normal",
    "iso6330_3N": "ISO 6330, type A machine, 30 °C, normal",
    "iso6330_6N": "ISO 6330, type A machine, 60 °C, normal",
    "aatcc_1_III": "AATCC, normal cycle, wash III (41 °C)",
    "aatcc_1_V": "AATCC, normal cycle, wash V (60 °C)",
}

DRYINGS: dict[str, str] = {
    "line": "line dried",
    "drip_line": "drip dried on a line",
    "flat": "dried flat",
    "drip_flat": "drip dried flat",
    "flat_press": "pressed flat",
    "tumble_low": "tumble dried, low",
    "tumble_medium": "tumble dried, medium",
    "tumble_high": "tumble dried, high",
}

WASHING_CAUTION = (
    "Hot wash water and dryers scald and burn, and an overloaded dryer can catch fire. "
    "Follow the machine maker's instructions and local codes."
)
