"""python -m calc: the same answers as the page, as text and as JSON."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from calc.car import Car, put, to_json
from calc.catalogue import BY_SLUG, FORMS
from calc.plain import quantity_text
from calc.reading import run

ROOT = Path(__file__).parents[1]


def calc(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "calc", *arguments]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


def test_list_names_every_form() -> None:
    listed = calc("--list").stdout
    assert [line.split()[0] for line in listed.splitlines()] == [form.slug for form in FORMS]


def test_fields_names_every_field_with_its_unit() -> None:
    shown = calc("collar-turns", "--fields").stdout
    for name in ("pitch", "corner.front_left.load", "scope", "cross_wanted"):
        assert name in shown
    pitch = next(line for line in shown.splitlines() if line.split()[:1] == ["pitch"])
    assert "mm" in pitch


def test_json_holds_the_quantities_of_the_page() -> None:
    done = calc("collar-turns", "wanted_height=24", "pitch=1", "--json")
    assert done.returncode == 0, done.stderr
    data = json.loads(done.stdout)
    answer = run(BY_SLUG["collar-turns"], {"wanted_height": "24", "pitch": "1"}, Car()).answer
    assert answer is not None
    assert set(data["quantities"]) == {quantity.name for quantity in answer.quantities}
    for quantity in answer.quantities:
        shown = data["quantities"][quantity.name]
        assert shown["text"] == quantity_text(quantity)
        assert shown["si"] == pytest.approx(quantity.value, rel=1e-12)
    # By hand: 2 mm x 0.65 / 1 mm a turn.
    assert data["quantities"]["turns"]["value"] == pytest.approx(1.3)


def test_text_begins_with_the_instruction() -> None:
    done = calc("oil-blend", "thin=200", "thick=500", "target=400")
    assert done.returncode == 0
    assert done.stdout.splitlines()[0].startswith("1. Mix ")


def test_wrong_input_is_a_sentence_and_no_traceback() -> None:
    done = calc("collar-turns", "pitch=0", "motion_ratio=NaN")
    assert done.returncode == 2
    assert "Thread pitch of the body: 0 mm is not possible here" in done.stderr
    assert "Motion ratio" in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""


def test_a_wrong_name_is_refused_with_the_nearest_right_one() -> None:
    done = calc("collar-turns", "pich=1")
    assert done.returncode == 2
    assert "pitch" in done.stderr
    assert "collar-turns" in calc("collar-turn").stderr


def test_a_car_from_a_file_fills_the_form(tmp_path: Path) -> None:
    file = tmp_path / "car.json"
    file.write_text(json.dumps(to_json(put(Car(), "front.pitch", 1e-3))), "utf-8")
    data = json.loads(calc("collar-turns", "--car", str(file), "--json").stdout)
    assert data["quantities"]["turns"]["value"] == pytest.approx(1.5 * 0.65)
    file.write_text("{", "utf-8")
    damaged = calc("collar-turns", "--car", str(file))
    assert damaged.returncode == 2
    assert "Traceback" not in damaged.stderr
