"""The backup file on the page: shown before it does anything, whole or refused."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from calc.kept import backup, log
from calc.kept.backup import Backup, Kept
from calc.kept.log import Moment
from calc.kept.setups import Setup
from calc.model.car import Car
from tests.site.hands import Visitor, hold_message, net, opened, save_setup, touch, turn
from tests.site.keeping import everything, is_whole, typed

ENTRIES = 4_000  # of the log, in a megabyte


def made(page: Page) -> Path:
    with page.expect_download() as download:
        page.get_by_role("button", name="Make a backup").click()
    return Path(download.value.path())


def test_the_file_has_the_day_of_the_device(visitor: Visitor, site: Any) -> None:
    """In the evening in America it is the next day already in Greenwich."""
    page = visitor(timezone_id="America/New_York").new_page()
    page.clock.set_fixed_time("2031-05-24T22:30:00-04:00")
    opened(page, site.url, "cars")
    with page.expect_download() as download:
        page.get_by_role("button", name="Make a backup").click()
    assert download.value.suggested_filename == "damper-bench-2031-05-24.json"


def test_a_backup_brings_everything_to_another_device(visitor: Visitor, site: Any) -> None:
    page = visitor().new_page()
    opened(page, site.url, "log")
    turn(page, "rear_left", "up", 2)
    expect(net(page, "rear_left")).to_have_text("1/2 up")
    opened(page, site.url, "setups")
    save_setup(page, "Morning")
    opened(page, site.url, "build")
    touch(page.locator('[name="tick.lay_out.rear_left"]'))
    opened(page, site.url, "cars")
    file = made(page)
    expect(page.locator("#backup-told")).to_contain_text(
        re.compile(r"Last backup: \d{4}-\d\d-\d\d\.")
    )
    kept = backup.from_text(file.read_text("utf-8"))
    assert [one.value.name for one in kept.setups] == ["Morning"] and len(kept.log) == 3
    assert kept.builds[0].texts["tick.lay_out.rear_left"].text == "1"

    other = visitor().new_page()
    opened(other, site.url, "log")
    turn(other, "front_left", "down")
    expect(net(other, "front_left")).to_have_text("1/4 down")
    opened(other, site.url, "cars")
    other.set_input_files("#backup-file", file)
    expect(other.locator("#cars-shown")).to_contain_text("comes from the backup")
    assert len(everything(other)["cars"]) == 1  # nothing is done yet
    other.get_by_role("button", name="Add it").click()
    expect(other.locator("#cars-list li")).to_have_count(3)
    is_whole(everything(other))
    other.locator("#notice").click(position={"x": 5, "y": 5})  # out of the way
    touch(other.locator('[name="restore-way"][value="replace"]'))
    other.set_input_files("#backup-file", file)
    expect(other.locator("#cars-shown")).to_contain_text("is not in the backup and goes")
    other.get_by_role("button", name="Replace everything with it").click()
    hold_message(other)
    expect(other.locator("#cars-list li")).to_have_count(2)
    after = everything(other)
    is_whole(after)
    for name in ("cars", "setups", "setup_cars", "log"):
        here, there = (
            {one["id"]: {**one, "revision": 0} for one in kept[name]}
            for kept in (after, everything(page))
        )
        assert here == there, name
    assert [one["texts"] for one in after["typed"] if one["form"] == "build"] == [
        one["texts"] for one in everything(page)["typed"] if one["form"] == "build"
    ]
    other.locator("#notice button").click()  # and back to what was there before
    expect(other.locator("#cars-list li")).to_have_count(3)

    opened(page, site.url, "build")  # the evening is finished after the backup
    page.locator('[data-do="build-done"]').click()
    expect(page.locator("#notice")).to_contain_text("Written down")
    opened(page, site.url, "cars")
    page.set_input_files("#backup-file", file)
    page.get_by_role("button", name="Add it").click()
    expect(page.locator("#notice")).to_contain_text("The backup is in")
    assert typed(everything(page), "build")["tick.lay_out.rear_left"] == "", "it stays finished"


def test_a_file_that_cannot_be_used_gets_a_sentence(
    visitor: Visitor, site: Any, tmp_path: Path
) -> None:
    page = visitor().new_page()
    opened(page, site.url, "cars")
    for number, (content, says) in enumerate(
        (
            (b"", "not a backup file"),
            (b'{"format": "damper bench backup", "schema": 9}', "newer version"),
            (b"\xff\xfe\x00", "not a backup file"),
            (b'{"format": "damper bench backup", "schema": 1', "damaged or not whole"),
        )
    ):
        file = tmp_path / f"file-{number}.json"
        file.write_bytes(content)
        page.set_input_files("#backup-file", file)
        expect(page.locator("#notice")).to_contain_text(says)
        assert everything(page)["cars"] == []


@pytest.mark.parametrize(
    "megabytes", [1, pytest.param(5, marks=pytest.mark.wide("as one megabyte, five times as long"))]
)
def test_a_large_backup_comes_in(
    visitor: Visitor, site: Any, tmp_path: Path, megabytes: int
) -> None:
    car, at, entries = Car(), Moment("e", "c1", 1.7e9, 0.0), megabytes * ENTRIES
    lines = [
        replace(log.set_base(car, at), id=f"e{n}", time=1.7e9 + n, note=f"note {n:040}")
        for n in range(entries)
    ]
    whole = Backup(
        1.7e9,
        (Kept("c1", 1.7e9, car),),
        tuple(
            Kept(f"s{n}", 1.7e9, Setup(f"day {n}", "2031-05-24", car=car), "c1") for n in range(50)
        ),
        tuple(lines),
    )
    file = tmp_path / "large.json"
    file.write_text(backup.to_text(whole), "utf-8")
    assert file.stat().st_size > megabytes * 1_000_000
    page = visitor().new_page()
    opened(page, site.url, "cars")
    page.set_input_files("#backup-file", file)
    expect(page.locator("#cars-shown")).to_contain_text(f"come in: {entries}")
    page.get_by_role("button", name="Add it").click()
    expect(page.locator("#notice")).to_contain_text("The backup is in")
    kept = everything(page)
    is_whole(kept)
    assert (len(kept["log"]), len(kept["setups"])) == (entries, 50)
    assert json.loads(file.read_text("utf-8"))["log"][7] in kept["log"]


def test_an_old_backup_is_reminded_of(visitor: Visitor, site: Any) -> None:
    page = visitor().new_page()
    opened(page, site.url, "log")
    turn(page, "rear_left", "up")
    expect(net(page, "rear_left")).to_have_text("1/4 up")
    expect(page.locator("#backup-state")).to_have_text("")
    page.add_init_script("const now = Date.now; Date.now = () => now() + 90 * 86_400_000;")
    page.reload()
    expect(page.locator("#backup-state")).to_contain_text("The last backup is old")
    opened(page, site.url, "cars")
    expect(page.locator("#kept-told")).to_contain_text("promised to keep")
    made(page)
    expect(page.locator("#backup-state")).to_have_text("")
