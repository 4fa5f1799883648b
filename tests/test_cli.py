"""python -m calc: the same answers as the page, as text and as JSON."""

import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from calc.__main__ import main
from calc.answering.answer import Quantity
from calc.answering.uncertainty import Uncertain, Uncertainty
from calc.forms.catalogue import BY_SLUG, FORMS
from calc.model.car import Car, put, to_json
from calc.replying.form import Form
from calc.replying.plain import quantity_text
from calc.replying.reading import run
from tests.forms.asking import UNDRAWN
from tests.owned import owned

ROOT = Path(__file__).parents[1]


@dataclass(frozen=True)
class Done:
    code: int
    out: str
    err: str


Calc = Callable[..., Done]


@pytest.fixture
def calc(capsys: pytest.CaptureFixture[str]) -> Calc:
    """The command line in this process."""

    def call(*arguments: str) -> Done:
        try:
            code = main(arguments)
        except SystemExit as left:
            code = int(left.code or 0)
        captured = capsys.readouterr()
        return Done(code, captured.out, captured.err)

    return call


def test_the_module_runs_and_its_exit_code_is_that_of_the_answer() -> None:
    for arguments, code in ((["oil-blend", "target=400"], 0), (["oil-blend", "target=x"], 2)):
        command = [sys.executable, "-m", "calc", *arguments]
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
        assert done.returncode == code
        assert bool(done.stdout) == (code == 0) and "Traceback" not in done.stderr


def test_list_prints_the_slug_of_every_form(calc: Calc) -> None:
    assert calc("--list").out.splitlines() == [form.slug for form in FORMS]


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.slug)
def test_fields_names_every_field(calc: Calc, form: Form) -> None:
    lines = [line.split("\t") for line in calc(form.slug, "--fields").out.splitlines()]
    assert [line[0] for line in lines] == [name for _, name, _ in form.cells()]
    assert all(len(line) in (4, 5) for line in lines)


def test_a_field_is_told_with_unit_label_ranges_and_when_it_is_asked(calc: Calc) -> None:
    shown = {line.split("\t")[0]: line for line in calc("collar-turns", "--fields").out.split("\n")}
    assert shown["pitch"] == (
        "pitch\tmm\tThread pitch of the body\tusual 0.5 to 1.5 mm; possible 0.1 to 5 mm"
        "\tonly with scope=axle"
    )
    assert "axle: one end; both: both ends; corners: four corners" in shown["scope"]
    assert "only with scope=corners" in shown["corner.front_left.load"]
    assert "may be empty" in shown["cross_wanted"]
    imperial = calc("collar-turns", "--fields", "--system", "imperial").out
    assert "\npitch\tin\t" in imperial


def test_json_holds_the_quantities_of_the_page(calc: Calc) -> None:
    done = calc("collar-turns", "wanted_height=24", "pitch=1", "--json")
    data = json.loads(done.out)
    answer = run(BY_SLUG["collar-turns"], {"wanted_height": "24", "pitch": "1"}, Car()).answer
    assert answer is not None and done.code == 0 and not done.err
    assert set(data) >= {"slug", "steps", "quantities", "cautions", "tables", "problems"}
    assert data["slug"] == "collar-turns" and data["problems"] == {}
    assert [step["text"] for step in data["steps"]] == [step.text for step in answer.steps]
    assert set(data["quantities"]) == {quantity.name for quantity in answer.quantities}
    for quantity in answer.quantities:
        shown = data["quantities"][quantity.name]
        assert shown["text"] == quantity_text(quantity)
        assert (shown["si"], shown["u"]) == pytest.approx((quantity.value, quantity.u), rel=1e-12)
    # By hand: 2 mm x 0.65 / 1 mm a turn, and as much more as the wheel rate is above 0.65 N/mm x
    # 0.65^2: 4.4054 N in the spring x 0.0022631 a mm of growth, 9.970 on top of 274.625 N/m.
    assert data["quantities"]["turns"]["value"] == pytest.approx(1.3 * 284.595 / 274.625, rel=1e-5)


def test_imperial_reads_and_shows_inches(calc: Calc) -> None:
    typed = ("wanted_height=1", "ride_height=0.9", "--system", "imperial", "--json")
    height = json.loads(calc("collar-turns", *typed).out)["quantities"]["height_after"]
    assert height["unit"] == "in" and height["text"].endswith("in")
    assert height["value"] * 0.0254 == pytest.approx(height["si"])


def test_text_begins_with_the_instruction_and_names_the_demo_car(calc: Calc) -> None:
    done = calc("oil-blend", "thin=200", "thick=500", "target=400")
    assert done.code == 0
    assert done.out.startswith("1. Mix ")
    assert "demo car" in done.out.splitlines()[-1]


def test_what_stops_the_work_stands_in_its_place_and_the_figures_stay(calc: Calc) -> None:
    lines = calc("collar-turns", "spring_free=48.5", "droop_length=38.5").out.splitlines()
    assert lines[0].startswith("STOP: ") and lines[2].startswith("Figures")
    assert not [line for line in lines if line.startswith("1. ")]


def test_wrong_input_is_one_sentence_a_field_and_no_answer(calc: Calc) -> None:
    done = calc("collar-turns", "pitch=0", "motion_ratio=NaN")
    assert (done.code, done.out) == (2, "")
    first, second = done.err.splitlines()
    assert first.startswith("pitch: Thread pitch of the body: 0 mm is not possible here")
    assert second.startswith("motion_ratio: Motion ratio")
    data = json.loads(calc("collar-turns", "pitch=0", "--json").out)
    assert set(data["problems"]) == {"pitch"} and data["quantities"] == {}


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["collar-turns", "pich=1"], "pich: collar-turns has no such field; the nearest is pitch."),
        (["collar-turn"], "collar-turn: no such form; the nearest is collar-turns."),
        (["collar-turns", "pitch"], "pitch: a value is missing; write pitch=VALUE."),
        (["collar-turns", "turns=1"], "it is asked for only with scope=axle and ask=height."),
        (["collar-turns", "--system", "furlongs"], "invalid choice"),
        (["collar-turns", "--lst"], "unrecognized arguments: --lst"),
    ],
)
def test_wrong_use_is_told_in_words(calc: Calc, arguments: list[str], words: str) -> None:
    done = calc(*arguments)
    assert (done.code, done.out) == (2, "")
    assert words in done.err


def test_a_name_that_two_fields_have_is_that_of_the_one_asked_for(calc: Calc) -> None:
    """The arm is asked for one way for another hole, another way for all else."""
    moved = calc("whole-car", "change=hole", "hole_end=front", "front.other_lower_out=70 mm")
    assert moved.code == 0
    same = calc("whole-car", "change=hole", "hole_end=front", "front.lower_out=72 mm", "--json")
    assert same.code == 0, same.err
    assert "front.lower_out" not in json.loads(same.out)["problems"]


def test_another_language_is_spoken_on_request_and_only_then(calc: Calc) -> None:
    english = calc("collar-turns", "wanted_height=24").out
    german = calc("collar-turns", "wanted_height=24", "--language", "de").out
    assert "\nRechenweg\n" in german and "\nWorking\n" not in german
    assert "24,00\u00a0mm" in german and "24.00\u00a0mm" in english
    assert calc("collar-turns", "wanted_height=24", "--language=en").out == english
    fields = calc("collar-turns", "--fields", "--language", "es").out
    assert "pitch\tmm\tPaso de rosca\thabitual 0,5 a 1,5 mm" in fields


def test_values_for_a_machine_are_the_same_in_every_language(calc: Calc) -> None:
    asked = ("oil-blend", "target=350", "--json")
    english, german = (
        json.loads(calc(*asked, "--language", code).out)["quantities"] for code in ("en", "de")
    )
    for name, quantity in english.items():
        assert german[name]["value"] == quantity["value"]
        assert german[name]["unit"] == quantity["unit"]


def test_wrong_input_is_refused_in_the_language_asked_for(calc: Calc) -> None:
    done = calc("--language", "de", "collar-turns", "pitch=0")
    assert done.code == 2 and done.err.startswith("pitch: Gewindesteigung: 0 mm, das ist")
    done = calc("collar-turns", "--language", "xx")
    assert done.code == 2 and "invalid choice" in done.err


def test_a_wrong_choice_does_not_blame_what_depends_on_it(calc: Calc) -> None:
    done = calc("collar-turns", "scope=planet", "corner.front_left.load=400")
    assert done.err.splitlines() == [
        "scope: Which part of the car: choose one of axle, both, corners."
    ]


def test_a_car_from_a_file_fills_the_form(calc: Calc, tmp_path: Path) -> None:
    file = tmp_path / "car.json"
    file.write_text(json.dumps(to_json(put(owned(UNDRAWN), "front.pitch", 1e-3))), "utf-8")
    text = calc("collar-turns", "--car", str(file)).out
    assert "demo car" not in text
    data = json.loads(calc("collar-turns", "--car", str(file), "--json").out)
    assert data["quantities"]["turns"]["value"] == pytest.approx(1.5 * 0.65)


@pytest.mark.parametrize(
    "stored", ["", "{", "[]", "[" * 100_000, "NaN", '{"schema": 1}', "\ud800", "1" * 5000]
)
def test_a_file_that_is_no_car_is_refused_in_one_sentence(
    calc: Calc, tmp_path: Path, stored: str
) -> None:
    file = tmp_path / "car.json"
    file.write_text(stored, "utf-8", errors="surrogatepass")
    done = calc("collar-turns", "--car", str(file))
    assert (done.code, done.out, len(done.err.splitlines())) == (2, "", 1)


def test_a_file_that_is_not_there_is_named(calc: Calc, tmp_path: Path) -> None:
    done = calc("collar-turns", "--car", str(tmp_path / "none.json"))
    assert done.code == 2 and "none.json: cannot be read" in done.err


@pytest.mark.parametrize(
    ("value", "u", "kind", "shown"),
    [
        # Two digits of the expanded uncertainty, the value to the same place (JCGM 100, 7.2.6).
        (0.0125, 0.000062, "length", "12.50 ± 0.12 mm"),
        (0.0125, 0.00062, "length", "12.5 ± 1.2 mm"),
        (350e-6, 8.75e-6, "viscosity", "350 ± 18 cSt"),
        (293.15, 0.5, "temperature", "20.0 ± 1.0 °C"),
        (0.318, 0.0185, "share", "31.8 ± 3.7%"),
        (-1.5, 0.06, "turns", "−1.50 ± 0.12 turns"),
        (1.25, 0.0, "turns", "1 1/4 turns"),
        (0.0125, 0.0, "length", "12.50 mm"),
        (0.0125, 1e-12, "length", "12.50 mm"),  # too small to be seen
    ],
)
def test_a_quantity_is_shown_with_its_expanded_uncertainty(
    value: float, u: float, kind: str, shown: str
) -> None:
    assert (
        quantity_text(
            Quantity("q", "Q", value, kind, Uncertain(value, lambda: Uncertainty(u)))
        ).replace("\u00a0", " ")
        == shown
    )
