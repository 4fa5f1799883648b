"""Moving about: by moment, by search, by what was used last, by address; and the way home."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, Page, expect

from calc.asking.entry import Choice, Rows
from calc.forms.catalogue import BY_SLUG, FORMS
from calc.language import NAMES
from site_src.both import garage
from site_src.pages import guide
from site_src.pages.languages import path_in
from site_src.pages.render import OTHERS, chapters_of, menus
from tests.site.hands import (
    NO_PYTHON,
    PATIENCE,
    Visitor,
    at_rest,
    choose,
    is_offline,
    opened,
    trial,
    visiting,
)
from tests.site.hosting import Site
from tests.site.keeping import HOLD_DATABASE

PHONE = {"width": 360, "height": 740}
# What each of many searches finds: the addresses, in order.
FOUND = """async (texts) => {
  const field = document.getElementById("find");
  field.focus();
  const status = document.getElementById("find-count");
  const found = [];
  for (const text of texts) {
    status.textContent = "";
    field.value = text;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    while (!status.textContent) await new Promise((done) => setTimeout(done));
    found.push([...document.querySelectorAll("#found a")].map((link) => link.getAttribute("href")));
  }
  return found;
}"""


def name_of(page: Page) -> str:
    """The part of the address behind #."""
    return page.url.partition("#")[2]


def chosen(page: Page, slug: str, name: str) -> str:
    value = page.locator(f'form[id="{slug}"] [name="{name}"]:checked').get_attribute("value")
    return value or ""


@pytest.fixture
def searching(page: Page, site: object) -> Page:
    """The start list with the guides read."""
    opened(page, site.url, "all?find=")
    expect(page.locator("#find")).to_be_focused()
    page.locator("#find").fill("witness mark")
    expect(page.locator('#found a[href^="guides/words.html"]')).to_be_visible()
    return page


def test_search_finds_every_form_and_place(searching: Page) -> None:
    pages = [*FORMS, *garage.PLACES, *OTHERS]
    found = searching.evaluate(FOUND, [one.title.upper() for one in pages])
    for one, addresses in zip(pages, found, strict=True):
        assert addresses[0] == f"#{one.slug}"


@pytest.mark.parametrize(
    "each", [3, pytest.param(1, marks=pytest.mark.wide("two thirds more of what is found alike"))]
)
def test_search_finds_every_field(searching: Page, each: int) -> None:
    wanted = {}
    for form in FORMS:
        for part in (part for _, _, parts in chapters_of(form) for part in parts):
            if not isinstance(part, Rows):
                wanted[f"{part.label} {form.title}"] = f"#{form.slug}-{part.name}"
                continue
            first, *_ = part.rows[0]
            for column in part.columns:
                label = part.rows[0][1] if len(part.columns) == 1 else column.label
                address = f"#{form.slug}-{part.name}.{first}.{column.name}"
                wanted[f"{part.label} {label} {form.title}"] = address
    asked = list(wanted)[::each]
    for query, found in zip(asked, searching.evaluate(FOUND, asked), strict=True):
        assert wanted[query] in found, query


def test_search_finds_every_part_of_a_guide_and_every_word(searching: Page) -> None:
    wanted = {}
    for slug in guide.slugs():
        html = guide.html(slug)
        for address, head in re.findall(r'<(?:h2|dt) id="([^"]+)">([^<]*)</', html):
            title = "" if f'<dt id="{address}"' in html else guide.title(slug)
            wanted[f"{head} {title}"] = f"guides/{slug}.html#{address}"
    assert len(wanted) > 150
    for (query, address), found in zip(
        wanted.items(), searching.evaluate(FOUND, list(wanted)), strict=True
    ):
        assert address in found, query


QUESTIONS = {
    "left and right are alike": {"pairing", "drop-test"},
    "How do I know both are the same?": {"pairing", "build"},
    "car is too low at the front": {"collar-turns"},
    "the car pulls to one side": {"corner-loads"},
    "shock leaks oil": {"fill-bleed"},
    "how long do I wait for the bubbles": {"fill-bleed"},
    "car bounces after a jump": {"ride-frequency"},
    "it got colder today": {"hotter"},
    "spring has no label": {"spring-rate"},
    "which hole on the arm": {"motion-ratio"},
    "what did I change yesterday?": {"log"},
    "I have a new phone, how do I take my cars along": {"cars"},
    "print something for the pit box": {"sheet"},
}
"""What somebody types, and the pages that have to be among the first five."""


def test_search_answers_whole_questions(searching: Page) -> None:
    for (query, pages), found in zip(
        QUESTIONS.items(), searching.evaluate(FOUND, list(QUESTIONS)), strict=True
    ):
        assert {f"#{page}" for page in pages} <= set(found[:5]), query


def test_search_minds_no_case_and_no_accents_and_takes_parts_of_words(searching: Page) -> None:
    plain, other, turned = searching.evaluate(FOUND, ["viscosity oil", "VÍSCÖSIT  öi", "oil visc"])
    assert len(plain) > 1
    assert set(plain) <= set(other)
    assert set(plain) <= set(turned)
    field = searching.locator("#find")
    field.fill("witness mark")
    expect(searching.locator("#find-count")).to_have_text(re.compile(r"^\d+ found\.$"))
    field.fill("zzqx")
    expect(searching.locator("#find-count")).to_contain_text("Nothing found")
    expect(searching.locator("#found a")).to_have_count(0)
    field.fill("a")
    expect(searching.locator("#find-count")).to_contain_text("the nearest 40 are here")
    expect(searching.locator("#found a")).to_have_count(40)


def test_a_result_puts_the_cursor_into_the_field(searching: Page) -> None:
    searching.locator("#find").fill("wheelbase collar")
    searching.locator('#found a[href="#collar-turns-wheelbase"]').click()
    expect(searching.locator('form[id="collar-turns"] [name="wheelbase"]')).to_be_focused()
    expect(searching.locator("#notice")).not_to_contain_text("Shown when")
    searching.go_back()
    expect(searching.locator("#find")).to_have_value("wheelbase collar")
    expect(searching.locator("#found a").first).to_be_visible()


def test_a_field_that_is_not_shown_is_not_unfolded_but_said(visitor: Visitor, site: object) -> None:
    page = opened(visitor().new_page(), site.url, "all?find=first touch preload")
    form = BY_SLUG["spring-preload"]
    known = next(field for field in form.fields if field.name == "known")
    assert isinstance(known, Choice)
    says = f"Shown when “{known.label}” is “{dict(known.options)['turns']}”."
    result = page.locator('#found a[href="#spring-preload-past_touch"]')
    expect(result).to_contain_text(says)
    result.click()
    expect(page.locator("#notice")).to_contain_text(says)
    expect(page.locator('form[id="spring-preload"] [name="past_touch"]')).to_be_hidden()
    assert chosen(page, "spring-preload", "known") == "length"
    focused = page.evaluate("document.activeElement.name")
    assert focused == "known", "the choice that shows it is at hand"


def test_search_needs_neither_a_network_nor_python(owner: Page, same_site: Site) -> None:
    page = opened(owner, same_site.url, "all")
    same_site.stop()
    page.add_init_script(NO_PYTHON)
    page.reload()
    page.locator('.pages a[href="#all?find="]').click()
    expect(page.locator("html")).to_have_attribute("data-engine", "starting")
    page.locator("#find").fill("witness mark")
    page.locator('#found a[href="guides/keeping.html#the-witness-mark"]').click()
    expect(page.locator("#the-witness-mark")).to_be_in_viewport()
    page.go_back()
    expect(page.locator("#find")).to_have_value("witness mark")
    page.locator('#found a[href="guides/words.html#witness-mark"]').click()
    expect(page.locator("dt#witness-mark")).to_be_in_viewport()
    same_site.start()


def test_search_is_a_labelled_field_and_a_list_of_links(searching: Page) -> None:
    searching.get_by_role("searchbox", name="Find a form, a field, a word").fill("coil bind")
    status = searching.get_by_role("search").get_by_role("status")
    expect(status).to_contain_text("found")
    searching.keyboard.press("Enter")
    expect(searching).to_have_url(re.compile(r"\?find=coil"))
    searching.locator("#find").focus()
    searching.keyboard.press("Tab")
    assert searching.evaluate("document.activeElement.closest('#found') !== null")


def test_choices_are_in_the_address_and_a_bookmark_makes_them(
    visitor: Visitor, site: object
) -> None:
    page = opened(visitor().new_page(), site.url, "collar-turns")
    expect(page).to_have_url(re.compile(r"#collar-turns\?scope=axle&ask=turns&axle=front$"))
    choose(page, "collar-turns", "scope", "corners")
    choose(page, "collar-turns", "ask", "height")
    expect(page).to_have_url(re.compile(r"#collar-turns\?scope=corners&ask=height$"))
    page.reload()
    expect(page.locator("html")).to_have_attribute("data-engine", "live", timeout=PATIENCE)
    assert chosen(page, "collar-turns", "scope") == "corners"
    assert name_of(page) == "collar-turns?scope=corners&ask=height"
    other = opened(visitor().new_page(), site.url, name_of(page))
    for name, value in (("scope", "corners"), ("ask", "height")):
        assert chosen(other, "collar-turns", name) == value
    expect(other.locator("#collar-turns-answer .step").first).to_have_text(
        page.locator("#collar-turns-answer .step").first.inner_text()
    )


def test_an_address_cannot_make_what_is_no_choice(visitor: Visitor, site: object) -> None:
    """Neither a value that there is not, nor a value of the car, nor a number."""
    page = visitor().new_page()
    opened(page, site.url, "collar-turns?scope=moon&thread_hand=left&ride_height=99&x=%E0%A4%A")
    assert chosen(page, "collar-turns", "scope") == "axle"
    assert chosen(page, "collar-turns", "thread_hand") == "right"
    expect(page.locator('form[id="collar-turns"] [name="ride_height"]')).not_to_have_value("99")


def test_back_leads_to_the_page_before_with_its_choices(visitor: Visitor, site: object) -> None:
    page = opened(visitor().new_page(), site.url, "oil-blend")
    choose(page, "oil-blend", "task", "shift")
    expect(page).to_have_url(re.compile("task=shift"))
    menu = page.locator(".pages details", has_text="Track")
    menu.locator("summary").click()
    menu.get_by_role("link", name="Oil for today").click()
    expect(page.locator('[data-page="hotter"]')).to_be_visible()
    expect(page).to_have_title(re.compile("Oil for today"))
    page.go_back()
    expect(page.locator('[data-page="oil-blend"]')).to_be_visible()
    assert chosen(page, "oil-blend", "task") == "shift"
    choose(page, "oil-blend", "task", "made")
    choose(page, "oil-blend", "task", "blend")
    page.go_forward()
    expect(page.locator('[data-page="hotter"]')).to_be_visible()
    page.go_back()
    expect(page.locator('[data-page="oil-blend"]')).to_be_visible()
    assert chosen(page, "oil-blend", "task") == "blend"


def test_back_leads_to_where_one_had_scrolled(visitor: Visitor, site: object) -> None:
    phone = opened(visitor(viewport=PHONE).new_page(), site.url, "all")
    phone.locator("#offline-state:not(:empty)").wait_for()  # a line that comes late, above
    phone.locator('#doors a[href="#spring-swap"]').scroll_into_view_if_needed()
    expect(phone.locator("h2:visible")).not_to_be_in_viewport()
    there = phone.evaluate("scrollY")
    phone.locator('#doors a[href="#spring-swap"]').click()
    expect(phone.locator('[data-page="spring-swap"]')).to_be_visible()
    assert phone.evaluate("scrollY") == 0, "a link leads to the head of a page"
    phone.go_back()
    expect(phone.locator('[data-page="all"]')).to_be_visible()
    phone.wait_for_function("(there) => Math.abs(scrollY - there) <= 2", arg=there)


def test_an_error_leads_to_its_field_and_leaves_the_address(page: Page, site: object) -> None:
    opened(page, site.url, "spring-preload")
    pitch = page.locator('form[id="spring-preload"] [name="pitch"]')
    trial(pitch, "9")
    page.locator("#spring-preload-answer .problems a").click()
    expect(pitch).to_be_focused()
    assert name_of(page).startswith("spring-preload?")
    page.locator('[data-page="spring-preload"] [data-do="reset"]').click()


def test_reopening_leads_to_where_one_was(visitor: Visitor, site: object) -> None:
    context = visitor()
    page = opened(context.new_page(), site.url, "spring-swap")
    expect(page).to_have_url(re.compile("#spring-swap"))
    page.close()
    page = context.new_page()
    page.goto(site.url)
    expect(page.locator('[data-page="spring-swap"]')).to_be_visible()


def test_the_start_list_begins_with_what_was_used_last(visitor: Visitor, site: object) -> None:
    page = opened(visitor().new_page(), site.url, "all")
    expect(page.locator("#used")).to_be_hidden()
    for name in ("stroke", "log", "help", "hotter", "sheet", "stroke", "collar-turns"):
        page.goto(f"{site.url}#{name}")
        expect(page.locator(f'[data-page="{name}"]')).to_be_visible()
    page.goto(f"{site.url}#all")
    links = page.locator("#used a")
    expect(links).to_have_count(4)
    addresses = links.evaluate_all("(all) => all.map((a) => a.getAttribute('href'))")
    assert addresses == ["#collar-turns", "#stroke", "#sheet", "#hotter"]
    expect(page.get_by_role("heading", name="Last used")).to_be_visible()
    assert page.locator('[data-page="all"] h3:visible').first.inner_text() == "Last used"
    page.reload()
    expect(links).to_have_count(4)


@pytest.fixture
def phone(visitor: Visitor, site: object) -> Page:
    page = visitor().new_page()
    page.set_viewport_size(PHONE)
    return at_rest(page, site.url, "all")


def test_every_page_is_two_touches_away_under_the_thumb(phone: Page) -> None:
    bar = phone.locator(".pages")
    for short, _ in menus():
        summary = bar.locator("summary", has_text=short)
        box = summary.bounding_box()
        assert box is not None
        assert box["y"] >= PHONE["height"] - 64
        assert min(box["height"], box["width"]) >= 44
        summary.click()
        opened_now = bar.locator("details[open]")
        expect(opened_now).to_have_count(1)  # the one before has closed
        expect(opened_now).to_contain_text(short)
        for link in bar.locator("details[open] a").all():
            at = link.bounding_box()
            assert at is not None
            assert at["height"] >= 44
            assert PHONE["height"] * 0.2 < at["y"] < at["y"] + at["height"] <= box["y"] + 1
    reached = bar.locator("a").evaluate_all("(all) => all.map((a) => a.getAttribute('href'))")
    for one in (*FORMS, *garage.PLACES, *OTHERS):
        assert f"#{one.slug}" in reached


def test_a_menu_that_is_opened_while_the_device_is_asked_stays_open(
    visitor: Visitor, site: Site
) -> None:
    device = visitor()
    other = opened(device.new_page(), site.url, "log")
    other.evaluate(HOLD_DATABASE)
    page = at_rest(device.new_page(), site.url, "all")
    page.locator(".pages summary").first.click()
    other.evaluate("() => { globalThis.free = true; }")
    expect(page.locator("#engine-state")).to_contain_text("Type a number")  # it has answered
    expect(page.locator(".pages details").first).to_have_attribute("open", "")


def test_find_opens_with_what_is_found_in_sight(phone: Page) -> None:
    hero, finds = phone.locator(".hero"), phone.locator(".pages .finds")
    expect(hero).to_be_visible()
    finds.click()
    expect(hero).to_be_hidden()
    expect(finds).to_have_attribute("aria-current", "page")
    expect(phone.locator('.pages a[href="#all"]')).not_to_have_attribute("aria-current", "page")
    phone.keyboard.type("preload")
    expect(phone.locator("#found li").first).to_be_in_viewport(ratio=1)
    phone.locator("#find").fill("")
    expect(phone).to_have_url(re.compile(r"#all\?find=$"))
    phone.locator('.pages a[href="#all"]').click()
    expect(hero).to_be_visible()
    expect(finds).not_to_have_attribute("aria-current", "page")


def test_an_address_opens_every_page_at_its_head(phone: Page) -> None:
    """A browser scrolls to what bears the name in the address, which is the form."""
    for place in (*FORMS, *garage.PLACES):
        phone.evaluate("() => (location.hash = 'all')")
        expect(phone.locator('[data-page="all"]')).to_be_visible()
        phone.evaluate("(slug) => (location.hash = slug)", place.slug)
        expect(phone.locator(f'[data-page="{place.slug}"]')).to_be_visible()
        assert phone.evaluate("scrollY") == 0, place.slug


def test_the_bar_covers_neither_fields_nor_the_notice(visitor: Visitor, site: object) -> None:
    phone = visitor(viewport=PHONE).new_page()
    opened(phone, site.url, "all")
    bar = phone.locator(".pages").bounding_box()
    assert bar is not None
    for form in FORMS:
        phone.goto(f"{site.url}#{form.slug}")
        expect(phone.locator(f'[data-page="{form.slug}"]')).to_be_visible()
        for field in phone.locator(f'form[id="{form.slug}"] .field input:visible').all()[-3:]:
            phone.evaluate("scrollTo(0, 0)")
            field.focus()
            box = field.bounding_box()
            assert box is not None
            assert box["y"] + box["height"] <= bar["y"], form.slug
        phone.wait_for_function(  # the live answer may be longer than the one before it
            """(top) => {
              scrollTo(0, document.body.scrollHeight);
              return document.querySelector("footer").getBoundingClientRect().bottom <= top;
            }""",
            arg=bar["y"],
        )
    phone.goto(f"{site.url}#spring-preload")
    phone.locator('[data-page="spring-preload"] [data-do="reset"]').click()
    notice = phone.locator("#notice")
    expect(notice).to_be_visible()
    box = notice.bounding_box()
    assert box is not None
    assert box["y"] + box["height"] <= bar["y"]


@pytest.mark.parametrize("language", NAMES)
def test_the_smallest_phone_has_room_for_the_bar_and_the_line_at_the_top(
    visitor: Visitor, site: object, language: str
) -> None:
    """All pages in one row, and of what is to be turned the give or take as well."""
    phone = visitor(viewport={"width": 320, "height": 640}).new_page()
    opened(phone, site.url + path_in("index.html", language), "collar-turns")
    below = [entry.bounding_box() for entry in phone.locator(".pages > *").all()]
    assert len({box["y"] for box in below if box}) == 1
    phone.evaluate("scrollTo(0, 900)")
    line = phone.locator('[data-page="collar-turns"] .brief strong')
    expect(line).to_contain_text(re.compile("±|Give or take"), use_inner_text=True)
    expect(line).to_be_visible()
    assert line.evaluate("(line) => line.scrollHeight <= line.clientHeight")


def test_the_bar_leaves_the_phones_own_edge_alone(phone: Page) -> None:
    client = phone.context.new_cdp_session(phone)
    before = phone.locator(".pages summary").first.bounding_box()
    client.send("Emulation.setSafeAreaInsetsOverride", {"insets": {"bottom": 34}})
    after = phone.locator(".pages summary").first.bounding_box()
    assert before is not None and after is not None
    assert after["y"] == pytest.approx(before["y"] - 34, abs=1)


def test_the_pages_stand_above_on_a_wide_screen_and_not_on_paper(phone: Page) -> None:
    bar = phone.locator(".pages")
    assert bar.evaluate("(bar) => getComputedStyle(bar).position") == "fixed"
    phone.set_viewport_size({"width": 1280, "height": 800})
    assert bar.evaluate("(bar) => getComputedStyle(bar).position") == "static"
    phone.set_viewport_size(PHONE)
    phone.emulate_media(media="print")
    expect(bar).to_be_hidden()


def test_menus_answer_to_the_keyboard(phone: Page) -> None:
    menu = phone.locator(".pages details").first
    menu.locator("summary").focus()
    phone.keyboard.press("Enter")
    expect(menu.locator("a").first).to_be_visible()
    phone.keyboard.press("Tab")
    expect(menu.locator("a").first).to_be_focused()
    phone.keyboard.press("Escape")
    expect(menu.locator("a").first).to_be_hidden()
    expect(menu.locator("summary")).to_be_focused()
    phone.keyboard.press("Enter")
    phone.keyboard.press("Tab")
    phone.keyboard.press("Enter")
    expect(menu.locator("a").first).to_be_hidden()
    focused = "document.activeElement.closest('[data-page]')?.dataset.page"
    # A screen reader reads on in the page, which is shown once the address has changed.
    phone.wait_for_function(f"() => ({focused}) === '{FORMS[0].slug}'")
    phone.locator(".pages summary").last.click()
    phone.locator("h2:visible").first.click(position={"x": 5, "y": 5})
    expect(phone.locator(".pages details[open]")).to_have_count(0)


# What browsers say of themselves (from memory), and the way that Help then shows.
AGENTS = {
    "ios": "Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1.15 "
    "(KHTML, like Gecko) Version/18.5 Mobile/15E148 Safari/604.1",
    "android": "Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) "
    "Chrome/138.0.0.0 Mobile Safari/537.36",
    "android-plus": "Mozilla/5.0 (Android 15; Mobile; rv:140.0) Gecko/140.0 Firefox/140.0",
    "desktop": "Mozilla/5.0 (X11; Linux x86_64) AppleWebKit/537.36 (KHTML, like Gecko) "
    "Chrome/138.0.0.0 Safari/537.36",
    "bookmark": "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0",
}
OFFER = """() => {
  const event = new Event("beforeinstallprompt", { cancelable: true });
  event.prompt = () => { document.title = "asked"; return Promise.resolve(); };
  dispatchEvent(event);
  return event.defaultPrevented;
}"""


@pytest.mark.parametrize("way", AGENTS)
def test_help_knows_how_this_device_takes_the_page(
    browser: Browser, site: object, way: str
) -> None:
    with visiting(browser, user_agent=AGENTS[way]) as context:
        page = at_rest(context.new_page(), site.url, "help")
        shown = page.locator("#ways [data-way]:visible")
        expect(shown).to_have_count(1)
        assert shown.get_attribute("data-way") == way
        expect(page.locator("#install")).to_be_hidden()


def test_a_tablet_that_says_it_is_a_desktop_is_known_by_its_fingers(
    browser: Browser, site: object
) -> None:
    agent = AGENTS["ios"].replace("iPhone; CPU iPhone OS 18_5 like", "Macintosh; Intel")
    with visiting(browser, user_agent=agent) as context:
        page = context.new_page()
        page.add_init_script("Object.defineProperty(navigator, 'maxTouchPoints', { value: 5 })")
        at_rest(page, site.url, "help")
        expect(page.locator('#ways [data-way="ios"]')).to_be_visible()


def test_the_start_list_says_it_once_it_is_safe_and_not_again(owner: Page, same_site: Site) -> None:
    page = owner
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setUserAgentOverride", {"userAgent": AGENTS["ios"]})
    page.reload()
    opened(page, same_site.url, "all")
    hint = page.locator("#install")
    expect(hint).to_be_visible()  # before it is safe it has its words already
    expect(hint).to_contain_text("share button")
    page.goto(f"{same_site.url}#stroke")
    expect(page.locator('[data-page="stroke"]')).to_be_visible()
    page.goto(f"{same_site.url}#all")
    expect(page.locator('[data-page="all"]')).to_be_visible()
    expect(hint).to_be_hidden()  # once in a visit
    page.reload()
    expect(hint).to_be_visible(timeout=PATIENCE)
    hint.get_by_role("button", name="Don't show again").click()
    expect(hint).to_be_hidden()
    page.reload()
    is_offline(page, "safe")
    expect(hint).to_be_hidden()
    page.goto(f"{same_site.url}#help")
    expect(page.locator("#ways")).to_contain_text("share button")
    page.add_init_script("Object.defineProperty(navigator, 'standalone', { value: true })")
    page.reload()
    expect(page.locator('[data-page="help"]')).to_be_visible()
    expect(page.locator("#ways")).to_be_hidden()  # it is there already


def test_where_the_browser_asks_itself_there_is_a_button(browser: Browser, site: object) -> None:
    with visiting(browser, user_agent=AGENTS["android"]) as context:
        page = at_rest(context.new_page(), site.url, "help")
        assert page.evaluate(OFFER) is True
        button = page.locator("#ways").get_by_role("button", name="Install it")
        expect(button).to_be_visible()
        expect(page.locator("#ways [data-way]:visible")).to_have_count(0)
        button.click()
        expect(page).to_have_title("asked")
        expect(button).to_be_hidden()  # it can be asked once
        expect(page.locator("#ways [data-way]:visible")).to_have_count(1)
