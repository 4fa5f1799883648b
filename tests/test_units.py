"""Units against general libraries and printed factors; reading what anybody may type."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import units
from calc.asking.typed import NotANumber, convert_text, parse
from calc.units import KINDS, SYSTEMS, Unit
from tests.reference.cases import UNITS

# The same unit as pint writes it, where pint does not read our symbol.
PINT = {
    "°C": "degC",
    "°F": "degF",
    "cSt": "centistokes",
    "gf": "gram * standard_gravity",
    "kgf": "kilogram_force",
    "gf/mm": "gram * standard_gravity / mm",
    "kgf/cm": "kilogram_force / cm",
    "lbf/in": "lbf / inch",
    "in": "inch",
    "in/s": "inch / s",
    "N s/m": "N * s / m",
    "lbf s/in": "lbf * s / inch",
    "°": "degree",
    "%": "percent",
    "oz": "ounce",
    "fl oz": "US_fluid_ounce",
    "Mpsi": "megapsi",
    "turns": "dimensionless",
    "": "dimensionless",
}
ALL_UNITS = [(kind, unit) for kind, known in KINDS.items() for unit in known]


@pytest.mark.parametrize(("kind", "unit"), ALL_UNITS, ids=lambda it: getattr(it, "symbol", it))
def test_every_unit_agrees_with_pint(kind: str, unit: Unit) -> None:
    expression = PINT.get(unit.symbol, unit.symbol)
    for number in (0.0, 1.0, 37.5, -12.0):
        theirs = UNITS.Quantity(number, expression).to_base_units().magnitude
        assert unit.to_si(number) == pytest.approx(theirs, rel=1e-12, abs=1e-12)
        assert unit.from_si(theirs) == pytest.approx(number, rel=1e-12, abs=1e-10)


# NIST SP 811 (2008), appendix B.8 and B.9: factors to SI as printed (the digits are from memory);
# the ones marked exact stand in bold there.
@pytest.mark.parametrize(
    ("text", "kind", "printed", "half_last_digit"),
    [
        ("1 in", "length", 2.54e-2, 0),  # exact
        ("1 oz", "mass", 2.834952e-2, 0.5e-8),
        ("1 lb", "mass", 4.535924e-1, 0.5e-7),
        ("1 lbf", "force", 4.448222, 0.5e-6),
        ("1 kgf", "force", 9.80665, 0),  # exact
        ("1 lbf/in", "rate", 1.751268e2, 0.5e-4),
        ("1 psi", "pressure", 6.894757e3, 0.5e-3),
        ("1 bar", "pressure", 1.0e5, 0),  # exact
        ("1 cSt", "viscosity", 1.0e-6, 0),  # exact
        ("1 L", "volume", 1.0e-3, 0),  # exact
        ("1 fl oz", "volume", 2.957353e-5, 0.5e-11),  # US
        ("1 °", "angle", 1.745329e-2, 0.5e-8),
        ("1 h", "time", 3.6e3, 0),  # exact
        ("59 °F", "temperature", 288.15, 0),  # T/K = (t/°F + 459.67)/1.8, exact
    ],
)
def test_factors_are_as_printed(
    text: str, kind: str, printed: float, half_last_digit: float
) -> None:
    assert parse(text, kind).value == pytest.approx(printed, rel=1e-15, abs=half_last_digit)


@pytest.mark.parametrize(
    ("text", "kind", "si"),
    [
        ("12.5", "length", 0.0125),
        ("12,5", "length", 0.0125),
        (".5", "length", 0.0005),
        (",5", "length", 0.0005),
        ("5.", "length", 0.005),
        ("0,500", "length", 0.0005),  # nobody groups thousands behind a leading zero
        ("1 1/4", "turns", 1.25),
        ("-1 1/4", "turns", -1.25),
        ("−1/4", "turns", -0.25),  # a true minus sign, as answers show it
        ("1½", "turns", 1.5),
        ("¾", "turns", 0.75),
        ("1 1/4 turns", "turns", 1.25),
        ("1\u00a01/4\u00a0turns", "turns", 1.25),
        ("0.5in", "length", 0.0127),
        ('1/2 "', "length", 0.0127),
        ("1 1/2 inch", "length", 0.0381),
        ("20 °C", "temperature", 293.15),
        ("68 F", "temperature", 293.15),
        ("-40", "temperature", 233.15),
        ("45 %", "share", 0.45),
        ("350 CST", "viscosity", 350e-6),
        ("350 mm²/s", "viscosity", 350e-6),
        ("1e2", "viscosity", 100e-6),
        ("+3", "count", 3.0),
        ("٣", "count", 3.0),  # digits of another script are digits
        ("１２，５", "length", 0.0125),
        ("١٢٫٥", "length", 0.0125),
        ("1½in", "length", 0.0381),
        ("5 MM", "length", 0.005),
        ("350 cs", "viscosity", 350e-6),
        ("4.2 lbs/in", "rate", 4.2 * 0.45359237 * 9.80665 / 0.0254),
        ("1 lb", "force", 0.45359237 * 9.80665),
        ("32 tpi", "length", 0.0254 / 32),  # ASME B1.1: threads per inch
        ("97 cps", "viscosity", 100e-6),  # 1 cP = 1 mPa s; silicone oil of 0.97 g/mL
    ],
)
def test_what_people_write_is_read(text: str, kind: str, si: float) -> None:
    measured = parse(text, kind)
    assert measured.value == pytest.approx(si, rel=1e-12)
    assert measured.u is None


@given(whole=st.integers(1, 10**6))
def test_what_is_typed_equals_what_is_declared(whole: int) -> None:
    assert parse(f"{whole}", "viscosity").value == float(f"{whole}e-6")
    assert parse(f"{whole / 1000} m", "length").value == parse(f"{whole} mm", "length").value


def test_without_a_unit_the_system_decides() -> None:
    assert parse("1", "length", units.IMPERIAL).value == pytest.approx(0.0254)
    assert parse("1 mm", "length", units.IMPERIAL).value == pytest.approx(0.001)
    assert parse("1", "viscosity", units.IMPERIAL).value == pytest.approx(1e-6)


@pytest.mark.parametrize(
    ("text", "kind", "si", "u"),
    [
        ("12 ± 0.1", "length", 0.012, 0.05e-3),
        ("12 +- 0.1", "length", 0.012, 0.05e-3),
        ("12 +/- 0,1 mm", "length", 0.012, 0.05e-3),
        ("12 mm ± 0.1", "length", 0.012, 0.05e-3),
        ("12 ± 0.2 in", "length", 12 * 0.0254, 0.1 * 0.0254),
        ("12 mm ± 0.01 in", "length", 0.012, 0.005 * 0.0254),
        ("350 cSt +- 5 %", "viscosity", 350e-6, 8.75e-6),
        ("-20 ± 10 %", "length", -0.020, 1e-3),
        ("45 ± 2", "share", 0.45, 0.01),
        ("45 % ± 2 %", "share", 0.45, 0.01),
        ("20 °C ± 1", "temperature", 293.15, 0.5),
        ("68 °F ± 1.8", "temperature", 293.15, 0.5),
        ("1 1/4 ± 1/8", "turns", 1.25, 0.0625),
        ("½ ± ¼", "turns", 0.5, 0.125),
        ("5 ± 0", "length", 0.005, 0.0),
    ],
)
def test_a_doubt_is_the_half_width_for_two_standard_uncertainties(
    text: str, kind: str, si: float, u: float
) -> None:
    measured = parse(text, kind)
    assert measured.value == pytest.approx(si, rel=1e-12)
    assert measured.u == pytest.approx(u, rel=1e-12)


NOT_NUMBERS = [
    "", " ", "NaN", "nan", "inf", "-inf", "Infinity", "1e400", "-1e999", "10^400", "1/0", "1 1/0",
    "1 ± inf", "1 ± nan", "1 ± 1e400", "1 ± -1", "1 ±", "± 1", "1 ± 2 ± 3", "abc", "1 abc", "--1",
    "1 2", "1-2", "1.2.3", "1,2,3", "1,000", "12,500", "1,000.5", "1.000,5", "0x10", "1_000", "1e",
    "🏁", "1 🏁", "½½", "1/2/3", "5 mm mm", "\u200f5", "5\u202e", "5\x00", "5\n6", "9" * 61,
    "9" * 10_000, "🏎" * 10_000, "1" + " " * 10_000 + "2", "<script>alert(1)</script>",
    "'; drop table", "{0}", "%s", "\ud800", "²", "Ⅻ",
    "¼2", "½0", "1½2", "2 ½3/4", "１,０００", "１，０００", "١,٠٠٠", "١٬٠٠٠", "5 M",
]  # fmt: skip


@pytest.mark.parametrize("text", NOT_NUMBERS, ids=lambda text: ascii(text)[:24])
@pytest.mark.parametrize("kind", ["length", "viscosity", "turns", "ratio"])
def test_what_is_no_number_is_refused_with_a_clause(text: str, kind: str) -> None:
    with pytest.raises(NotANumber) as refused:
        parse(text, kind)
    words = str(refused.value)
    assert words and not words.endswith(".") and len(words) < 200


def test_a_thousands_comma_is_answered_with_both_readings() -> None:
    with pytest.raises(NotANumber, match=r"two ways; write 1000, or 1\.000"):
        parse("1,000", "viscosity")


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("1,234.5 cSt", "1234.5"), ("1.234,5", "1234.5"), ("1,234,567", "1234567"),
        ("1.234.567", "1234567"), ("-12,345,678.25 mm", "12345678.25"),
    ],
)  # fmt: skip
def test_what_can_only_be_thousands_is_answered_with_the_number_meant(
    text: str, plain: str
) -> None:
    with pytest.raises(NotANumber, match=rf"thousands without a sign, {re.escape(plain)}$"):
        parse(text, "viscosity")


def test_a_unit_of_another_kind_is_answered_with_the_ones_known() -> None:
    with pytest.raises(NotANumber, match=r"“mm” is not a unit known here; known: N/mm, lbf/in"):
        parse("5 mm", "rate")


@given(text=st.text(max_size=80), kind=st.sampled_from(sorted(KINDS)))
def test_any_text_gives_a_finite_number_or_a_refusal(text: str, kind: str) -> None:
    try:
        measured = parse(text, kind)
    except NotANumber:
        return
    assert math.isfinite(measured.value)


@given(
    number=st.sampled_from(["1e308", "9e307", "1/3", "5", "-1e300"]),
    doubt=st.sampled_from(["", "± 1e308", "± 1e308 %", "± 1"]),
    unit=st.sampled_from(ALL_UNITS),
)
def test_no_unit_turns_a_number_into_infinity(
    number: str, doubt: str, unit: tuple[str, Unit]
) -> None:
    kind, one = unit
    try:
        measured = parse(f"{number} {one.symbol} {doubt}", kind)
    except NotANumber:
        return
    assert math.isfinite(measured.value) and math.isfinite(measured.u or 0.0)


SHOWABLE = st.floats(-1e300, 1e300)


@given(
    number=st.floats(-1e6, 1e6),
    kind=st.sampled_from(sorted(KINDS)),
    system=st.sampled_from(SYSTEMS),
)
def test_what_stands_in_a_field_reads_back(number: float, kind: str, system: str) -> None:
    unit = units.unit_of(kind, system)
    value = unit.to_si(number)
    back = parse(units.entry_text(value, kind, system), kind, system).value
    last_digit = 0.5 * 10.0 ** -(unit.decimals + 2)
    assert back == pytest.approx(value, rel=1e-12, abs=last_digit * unit.factor * (1 + 1e-9))


@given(
    number=st.floats(-1e6, 1e6), u=st.floats(1e-6, 1e6), kind=st.sampled_from(sorted(KINDS)),
    system=st.sampled_from(SYSTEMS),
)  # fmt: skip
def test_a_number_keeps_the_digits_that_its_doubt_leaves(
    number: float, u: float, kind: str, system: str
) -> None:
    """Rounding to a third of the standard uncertainty moves it by a sixth at most, so that the
    uncertainty of both grows by less than 1.4 %: sqrt(1 + 1/36)."""
    unit = units.unit_of(kind, system)
    value, doubt = unit.to_si(number), u * unit.factor
    number = unit.from_si(value)
    back = unit.from_si(parse(units.entry_text(value, kind, system, doubt), kind, system).value)
    shown = 0.5 * 10.0 ** -(unit.decimals + 2) + abs(number) * 1e-12  # 14 digits are kept
    assert back == pytest.approx(number, abs=max(min(u / 6, abs(number) / 2), shown) * (1 + 1e-6))


@given(number=st.floats(-1e6, 1e6), kind=st.sampled_from(sorted(KINDS)))
def test_what_an_answer_shows_reads_back(number: float, kind: str) -> None:
    unit = units.unit_of(kind, units.METRIC)
    value = unit.to_si(number)
    back = parse(units.show(value, kind), kind).value
    last_digit = 0.5 * 10.0**-unit.decimals
    assert back == pytest.approx(value, rel=1e-9, abs=last_digit * unit.factor * (1 + 1e-9))


@given(value=SHOWABLE, kind=st.sampled_from(sorted(KINDS)), system=st.sampled_from(SYSTEMS))
def test_showing_never_raises(value: float, kind: str, system: str) -> None:
    shown = units.show(value, kind, system)
    assert shown and not shown.startswith(("-", "−0 ", "−0.00 "))


@given(
    value=st.floats(-1e3, 1e3), u=st.floats(0, 1e300), kind=st.sampled_from(sorted(KINDS)),
    system=st.sampled_from(SYSTEMS),
)  # fmt: skip
def test_decimals_follow_the_doubt(value: float, u: float, kind: str, system: str) -> None:
    unit = units.unit_of(kind, system)
    places = units.decimals_for(u, kind, system)
    assert 0 <= places <= unit.decimals + 2
    width = 2 * u / unit.factor
    if places < unit.decimals + 2 and 0 < width < 9.5:
        # Two digits of the expanded uncertainty: JCGM 100:2008, 7.2.6.
        assert 10 <= width * 10**places < 100.5


@pytest.mark.parametrize(
    ("turns", "words"),
    [
        (0, "0 turns"),
        (0.25, "1/4 turn"),
        (-0.5, "−1/2 turn"),
        (1, "1 turn"),
        (1.25, "1 1/4 turns"),
        (-2.375, "−2 3/8 turns"),
        (0.3, "0.30 turns"),
        (-0.001, "0.00 turns"),
        (1 / 3, "0.33 turns"),
    ],
)
def test_turns_are_said_as_a_hand_counts_them(turns: float, words: str) -> None:
    assert units.turns_text(turns).replace(units.NBSP, " ") == words


def test_the_weight_scale_is_the_owner_s_line() -> None:
    # (680 - 360) / (50 - 30) = 16 cSt a number, 360 - 16 x 30 = -120: two lines of our own making.
    scale = units.weight_unit(16, -120)
    for text in ("35 wt", "35 WT", "35 weight", "35W"):
        assert parse(text, "viscosity", extra=(scale,)).value == pytest.approx(440e-6)
    assert parse("35 ± 2 wt", "viscosity", extra=(scale,)).u == pytest.approx(16e-6)
    assert parse("35 wt ± 5 %", "viscosity", extra=(scale,)).u == pytest.approx(11e-6)
    with pytest.raises(NotANumber, match="outside your two lines"):
        parse("5 wt", "viscosity", extra=(scale,))
    with pytest.raises(NotANumber, match="makers differ"):
        parse("35 wt", "viscosity")


@settings(max_examples=50)
@given(slope=st.floats(0.1, 200), offset=st.floats(-2000, 2000), weight=st.floats(0, 200))
def test_weights_follow_any_line(slope: float, offset: float, weight: float) -> None:
    scale = units.weight_unit(slope, offset)
    text = f"{weight:.6f} wt"
    cst = slope * round(weight, 6) + offset
    if cst <= 0:
        with pytest.raises(NotANumber):
            parse(text, "viscosity", extra=(scale,))
        return
    assert parse(text, "viscosity", extra=(scale,)).value * 1e6 == pytest.approx(cst, abs=1e-6)


@pytest.mark.parametrize(
    ("text", "kind", "before", "after", "then"),
    [
        ("25.4", "length", "metric", "imperial", "1"),
        ("1", "length", "imperial", "metric", "25.4"),
        ("25,4 ± 2,54", "length", "metric", "imperial", "1 ± 0.1"),
        ("２５，４", "length", "metric", "imperial", "1"),
        # In a language whose decimal sign is a comma "57.912" could be a grouped 57912.
        ("2.28", "length", "imperial", "metric", "57.9120"),
        ("-2.28", "length", "imperial", "metric", "-57.9120"),
        ("0.01", "length", "imperial", "metric", "0.254"),
        ("68", "temperature", "imperial", "metric", "20"),
        ("20 ± 1", "temperature", "metric", "imperial", "68 ± 1.8"),
        # A unit that was typed, a kind without another unit, and what is no number stay.
        ("1 in", "length", "metric", "imperial", "1 in"),
        ("350", "viscosity", "metric", "imperial", "350"),
        ("1,000", "length", "metric", "imperial", "1,000"),
        ("", "length", "metric", "imperial", ""),
        ("🏁", "length", "metric", "imperial", "🏁"),
    ],
)
def test_what_was_typed_follows_the_system(
    text: str, kind: str, before: str, after: str, then: str
) -> None:
    assert convert_text(text, kind, before, after) == then


@pytest.mark.parametrize("text", ["0 tpi", "-32 tpi", "32 tpi ± 1", "32 tpi +", "32 tpi ± x"])
def test_threads_in_an_inch_are_more_than_none_and_their_width_is_in_per_cent(text: str) -> None:
    with pytest.raises(NotANumber):
        parse(text, "length")


def test_threads_in_an_inch_take_a_width_in_per_cent() -> None:
    measured = parse("32 tpi ± 1 %", "length")
    assert measured.u == pytest.approx(0.0254 / 32 * 0.01 / 2)


@pytest.mark.parametrize(
    ("value", "kind", "system", "says"),
    [
        (0.355, "mass", units.METRIC, "355 g"),
        (0.3555, "mass", units.METRIC, "355.5 g"),
        (0.0235, "length", units.METRIC, "23.5 mm"),
        (268.15, "temperature", units.METRIC, "−5 °C"),
        (295.15, "temperature", units.IMPERIAL, "71.6 °F"),
        (1.25, "turns", units.METRIC, "1 1/4 turns"),
    ],
)
def test_what_was_typed_comes_back_without_idle_zeros(
    value: float, kind: str, system: str, says: str
) -> None:
    assert units.as_typed(value, kind, system).replace(units.NBSP, " ") == says
