"""What another frequency and voltage do to an induction motor. It decides nothing: a licensed electrician does."""

from __future__ import annotations

from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written

DECIDES = (
    "A licensed electrician decides, connects and tests. Switching off is not isolating: lock off and prove dead before a cover comes off. "
    "Local rules go before anything here."
)

STRONG, WEAK = 1.05, 0.90
"""Flux over the plate's up to which the iron is taken to stand it, and below which torque is taken as too little. From the ±5 and ±10 % bands
of iec-60034-1 and nema-mg-1; between 1.05 and 1.10 the verdict says for a short time only."""


def synchronous_rpm(hertz: float, poles: int) -> float:
    """Speed of the field of an induction motor; the shaft turns a few percent slower.

        speed = 120 x frequency / poles

    >>> synchronous_rpm(50, 4), synchronous_rpm(60, 4)
    (1500.0, 1800.0)
    """
    if poles < 2 or poles % 2:
        raise BadValue("poles", f"a motor has poles in pairs, {poles} cannot be", "for example 4")
    return 120 * hertz / poles


def volts_per_hertz(volts: float, hertz: float) -> float:
    """Measure of the magnetic flux in the iron [V/Hz].

    >>> round(volts_per_hertz(460, 60), 3)
    7.667
    """
    return volts / hertz


def iec_zone(volts_percent: float, hertz_percent: float) -> str:
    """Zone of IEC 60034-1 for deviations from the plate [%]: A (continuous), B (not for long), or outside.

    The drawn zones have cut corners at voltages of -7 and +3 % that are left out here.

    >>> iec_zone(5, 2), iec_zone(-10, 3), iec_zone(0, 20)
    ('A', 'B', 'outside')
    """
    for zone, limits in data.read("supply")["iec_zones"].items():
        (v_low, v_high), (f_low, f_high) = limits["volts"], limits["hertz"]
        if v_low <= volts_percent <= v_high and f_low <= hertz_percent <= f_high:
            return zone
    return "outside"


def nema_sum(volts_percent: float, hertz_percent: float) -> tuple[float, bool]:
    """Sum of the deviations [%] and whether NEMA MG 1 allows it: volts within 10, hertz within 5, together within 10.

    >>> nema_sum(-5.1, 1.6)
    (6.699999999999999, True)
    """
    limits = data.read("supply")["nema"]
    v, f = abs(volts_percent), abs(hertz_percent)
    return v + f, v <= limits["volts"] and f <= limits["hertz"] and v + f <= limits["sum"]


def motor_on_supply(poles: int, rated_hz: float, supply_hz: float, rated_v: float, supply_v: float) -> Table:
    """Speed, flux and what follows when a motor runs on another supply than its plate's.

    poles               of the motor, a whole even number
    rated_hz, rated_v   of the plate, for the connection (star or delta) in use [Hz, V]
    supply_hz, supply_v of the supply, between lines for three phases [Hz, V]
    """
    plate = _row("plate", poles, rated_hz, rated_v, rated_hz, rated_v)
    supply = _row("supply", poles, supply_hz, supply_v, rated_hz, rated_v)
    return Table((plate, supply), _notes(plate, supply), (DECIDES,))


def _row(case: str, poles: int, hertz: float, volts: float, rated_hz: float, rated_v: float) -> dict[str, Any]:
    flux = volts_per_hertz(volts, hertz) / volts_per_hertz(rated_v, rated_hz)
    change = 100 * (hertz / rated_hz - 1)
    volts_percent = 100 * (volts / rated_v - 1)
    total, allowed = nema_sum(volts_percent, change)
    return {
        "case": case,
        "hertz": hertz,
        "volts": volts,
        "synchronous_rpm": synchronous_rpm(hertz, poles),
        "change_percent": change,
        "volts_percent": volts_percent,
        "volts_per_hertz": volts_per_hertz(volts, hertz),
        "flux_percent": 100 * flux,
        "torque_percent": 100 * min(flux, 1) ** 2,
        "iec_zone": iec_zone(volts_percent, change),
        "nema_sum_percent": total,
        "nema_allowed": allowed,
        "verdict": "as plated" if case == "plate" else _verdict(flux, change),
    }


def _verdict(flux: float, change: float) -> str:
    return "; ".join((_flux_words(flux), _speed_words(change)))


WORDS = {
    "too_much": "too much flux ({percent} % of the plate's): the iron saturates, the motor draws current without load and overheats",
    "much": "much flux ({percent} %): runs hot, for a short time at most",
    "weak": "weak ({percent} % flux): torque falls with its square, it starts badly and overheats under load",
    "right": "flux as it should be ({percent} %)",
    "same": "speed as plated",
    "faster": "{percent} % faster: check what chuck, bearings, belts and pumps stand",
    "slower": "{percent} % slower: less power and less air from its fan, so less load",
}


def _flux_words(flux: float) -> str:
    kind = "too_much" if flux > 1.10 else "much" if flux > STRONG else "weak" if flux < WEAK else "right"
    return WORDS[kind].format(percent=written(100 * flux, 0))


def _speed_words(change: float) -> str:
    if abs(change) < 0.5:
        return WORDS["same"]
    return WORDS["faster" if change > 0 else "slower"].format(percent=written(abs(change), 0))


NOTES = (
    "The same flux as on the plate's supply would take {volts} V at {hertz} Hz.",
    "Every spindle speed changes by {change} %, and with it the chuck's largest speed; a pump's power goes with "
    "the cube of its speed.",
    "Torque on the supply is the most the motor can pull, against the plate's, taken as the square of the flux and not above 100 %.",
    "IEC zone A is for running all day at full torque, zone B not for long. NEMA allows volts and hertz together to stray by 10 %, hertz by 5 %.",
    "Transformers, contactor coils, brakes, lamps and timers have plates of their own: look at each.",
    "Rotation: exchanging any two line conductors reverses a three-phase motor, passing all three on in a circle changes nothing. Check the coolant "
    "and oil pumps too. A chuck screwed on a threaded nose must not be run in reverse.",
    "Ask the electrician: is the plate for star or delta, and how are the links set? What is the supply between lines, and how far does it stray? "
    "Which protection fits the new current? Is a drive, a transformer or another motor the better way? Where is the isolator that can be locked?",
)


def _notes(plate: dict[str, Any], supply: dict[str, Any]) -> tuple[str, ...]:
    filled = {
        "volts": written(plate["volts_per_hertz"] * supply["hertz"], 0),
        "hertz": f"{supply['hertz']:g}",
        "change": written(supply["change_percent"], 1),
    }
    return tuple(words.format(**filled) for words in NOTES)


def browser_data() -> dict[str, Any]:
    """Limits and words, for the browser."""
    known = data.read("supply")
    return {
        "zones": known["iec_zones"],
        "nema": known["nema"],
        "words": WORDS,
        "notes": NOTES,
        "decides": DECIDES,
        "strong": STRONG,
        "weak": WEAK,
    }


def supply_voltages(plate_v: float | None = None) -> Table:
    """Nominal three-phase supplies of IEC 60038 with their ±10 % bands.

    plate_v   voltage on a plate [V]; each row then says whether its band holds it
    """
    band = data.read("supply")["band_percent"] / 100
    rows = tuple(_supply_row(row, band, plate_v) for row in data.rows("supply", "supplies"))
    split = data.read("supply")["split_phase"]
    return Table(
        rows,
        notes=(
            f"Single-phase three-wire supply at {split['hz']} Hz: {split['nominal']} V.",
            "Plates of 220/380 and 240/415 V at 50 Hz lie within 10 % of 230/400 V.",
            "In between Europe had +10/-6 %, 216.2 to 253 V; ask what holds where you are.",
        ),
        warnings=(DECIDES,),
    )


def _supply_row(row: dict[str, Any], band: float, plate: float | None) -> dict[str, Any]:
    voltages = [v for v in (row["phase"], row["line"]) if v is not None]
    return {
        "hertz": row["hz"],
        "nominal": row["nominal"],
        "phase_low_v": row["phase"] and row["phase"] * (1 - band),
        "phase_high_v": row["phase"] and row["phase"] * (1 + band),
        "line_low_v": row["line"] * (1 - band),
        "line_high_v": row["line"] * (1 + band),
        "holds_plate": None if plate is None else any(abs(plate / v - 1) <= band + 1e-9 for v in voltages),
    }


TABLES = (
    Definition(
        name="motor-on-supply",
        title="A motor on another supply",
        about="What a motor plated for one frequency and voltage does on another: its speed, the flux in its iron, what to look at and what to ask. "
        "It is for talking with the electrician, who decides.",
        group="Supply",
        parameters=(
            Parameter("poles", "Poles", kind="whole", low=2, high=48, example="4", help="4 where the plate says about 1400 to 1800 r/min"),
            Parameter("rated_hz", "Frequency on the plate", unit="Hz", low=10, high=400, example="60 Hz", argument="rated_hz"),
            Parameter("supply_hz", "Frequency of the supply", unit="Hz", low=10, high=400, example="50 Hz", argument="supply_hz"),
            Parameter("rated_v", "Voltage on the plate", unit="V", low=12, high=1000, example="460 V", argument="rated_v"),
            Parameter("supply_v", "Voltage of the supply", unit="V", low=12, high=1000, example="400 V", argument="supply_v"),
        ),
        columns=(
            Column("case", "Case", kind="text"),
            Column("hertz", "Frequency", "Hz", decimals=0),
            Column("volts", "Voltage", "V", decimals=0),
            Column("synchronous_rpm", "Speed of the field", "rpm", decimals=0),
            Column("change_percent", "Speed changes by", "percent", decimals=1),
            Column("volts_percent", "Voltage off by", "percent", decimals=1),
            Column("volts_per_hertz", "Volts per hertz", "V/Hz", decimals=3),
            Column("flux_percent", "Flux", "percent", decimals=0),
            Column("torque_percent", "Most torque", "percent", decimals=0),
            Column("iec_zone", "IEC zone", kind="text"),
            Column("nema_sum_percent", "NEMA sum", "percent", decimals=1),
            Column("nema_allowed", "NEMA allows", kind="flag"),
            Column("verdict", "Verdict", kind="text"),
        ),
        compute=motor_on_supply,
        browser="motor-on-supply",
        browser_data=browser_data,
        sources=(Cite("definition", "speed and volts per hertz", "computed"), Cite("iec-60034-1", "zones A and B", "secondary"),
                 Cite("nema-mg-1", "12.44", "secondary"), Cite("common-practice", "what flux and speed do", "practice"),
                 Cite("from-memory", "phase order", "memory")),
        holds="induction motors on a sine supply, 10 to 400 Hz, to 1000 V; not for motors on drives, nor for commutator and direct-current motors",
        also=("50 Hz", "60 Hz", "imported motor", "volts per hertz", "three phase", "rotation", "wrong voltage", "transformer"),
        examples=({"poles": 4, "rated_hz": 60, "supply_hz": 50, "rated_v": 460, "supply_v": 400},
                  {"poles": 4, "rated_hz": 60, "supply_hz": 50, "rated_v": 230, "supply_v": 230}),
    ),
    Definition(
        name="supply-voltages",
        title="Nominal supply voltages",
        about="Three-phase supplies of the world with their bands, and whether a plate's voltage lies inside.",
        group="Supply",
        parameters=(Parameter("plate", "Voltage on a plate", unit="V", low=12, high=1100, default=None, example="380 V"),),
        columns=(
            Column("hertz", "Frequency", "Hz", decimals=0),
            Column("nominal", "Nominal", kind="text"),
            Column("phase_low_v", "Phase from", "V", decimals=0),
            Column("phase_high_v", "to", "V", decimals=0),
            Column("line_low_v", "Between lines from", "V", decimals=0),
            Column("line_high_v", "to", "V", decimals=0),
            Column("holds_plate", "Holds the plate's", kind="flag"),
        ),
        compute=supply_voltages,
        sources=(Cite("iec-60038", "table 1 and its history", "secondary"),),
        holds="low-voltage supplies at 50 and 60 Hz",
        also=("mains voltage", "220 V", "380 V", "415 V", "480 V", "nominal voltage"),
        examples=({}, {"plate": 380}),
    ),
)  # fmt: skip
