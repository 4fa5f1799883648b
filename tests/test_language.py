"""Languages: every text has its words in each, a number its sign, and no value changes."""

import ast
import json
import random
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from string import Formatter

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jinja2 import Environment, nodes

from calc import units
from calc.answering.answer import Answer
from calc.answering.hand import turn_words, wait_words, way_words
from calc.asking.entry import Number, Refused, Rows, Text
from calc.asking.typed import NotANumber, parse
from calc.forms.catalogue import FORMS
from calc.kept.log import Moment, check, set_base
from calc.kept.log_view import to_csv, view
from calc.language import ENGLISH, NAMES, dictionary, inside, numbered, speaking, spoken, tr, use
from calc.model.car import Car, demo
from calc.model.corners import CORNERS
from calc.replying.form import Form, Reply
from calc.replying.plain import answer_text, reply_data
from calc.replying.reading import run
from calc.sheet.blocks import sheet
from site_src.build import words
from site_src.pages import guide, script_texts
from site_src.pages import words as trade
from tests.forms.every import (
    Along,
    along_few_or_all,
    check_reply,
    each_form,
    few_ways,
    figures,
    texts,
)
from tests.forms.ways import Choices, usual_entries

OTHERS = [code for code in NAMES if code != ENGLISH]
each_language = pytest.mark.parametrize("code", OTHERS)
SENTENCE = re.compile(r"[.?!]$")


@pytest.fixture(autouse=True)
def _english_again() -> Iterator[None]:
    yield
    use(ENGLISH)


def parts(text: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


# The dictionaries.


@each_language
def test_every_text_is_translated(code: str) -> None:
    known = dictionary(code)
    assert [key for key in sorted(words.gathered()) if not known.get(key)] == []


@each_language
def test_a_translation_has_the_parts_of_its_english(code: str) -> None:
    for key, translated in dictionary(code).items():
        if translated:
            assert parts(translated) == parts(key), key


@each_language
def test_a_translated_sentence_ends_as_one(code: str) -> None:
    for key, translated in dictionary(code).items():
        if translated and SENTENCE.search(key):
            assert SENTENCE.search(translated), key


@each_language
def test_no_dictionary_is_kept_for_what_nobody_says(code: str) -> None:
    assert sorted(set(dictionary(code)) - words.gathered()) == []


@each_language
def test_a_guide_has_every_heading_point_and_picture_of_the_english_one(code: str) -> None:
    part = re.compile(r"^(#+ |- |\d+\. )|^!\[.*\]\((drawing:[\w-]+)", re.MULTILINE)
    for path in guide.GUIDES.glob("*.md"):
        theirs = guide.GUIDES / code / path.name
        english, foreign = (part.findall(one.read_text("utf-8")) for one in (path, theirs))
        assert foreign == english, path.name


# Looking up.


def test_a_text_is_looked_up_whole_and_its_parts_may_change_places() -> None:
    use("de", {"{low} to {high}": "{high} von {low}", "down (stream)": "bergab", "up": ""})
    assert tr("{low} to {high}", low=1, high=2) == "2 von 1"
    assert tr("down", sense="stream") == "bergab" and tr("down") == "down"
    assert tr("up") == "up" and tr("not {there}", there="{x}") == "not {x}"
    with pytest.raises(KeyError):
        use("xx")


def test_a_language_is_spoken_for_a_while() -> None:
    with speaking("de"):
        assert spoken().code == "de"
        with pytest.raises(Refused), speaking("es"):
            raise Refused("")
        assert spoken().code == "de"
    assert spoken().code == ENGLISH


# The trade's words.


def said_in(code: str) -> dict[str, str]:
    """All texts in a language, of screen, paper and command line, and the guides, by their name."""
    known = dictionary(OTHERS[0]) if code == ENGLISH else dictionary(code)
    found = {key: key if code == ENGLISH else text for key, text in known.items()}
    folder = guide.GUIDES if code == ENGLISH else guide.GUIDES / code
    found |= {path.name: path.read_text("utf-8") for path in folder.glob("*.md")}
    return found | {
        "words": "".join(word.means for _, all_ in trade.sections(code) for word in all_)
    }


@pytest.mark.parametrize("code", NAMES)
def test_no_text_has_a_word_that_is_said_otherwise(code: str) -> None:
    """The table says what instead: the trade's word, and one word for one thing."""
    rules = [rule for rule in trade.never() if rule.language == code]
    assert len(rules) > 10
    slips = {
        name: f"{found}: say {rule.say}"
        for name, text in said_in(code).items()
        for rule in rules
        if (found := rule.found(re.sub(r"{\w+}", "", text)))
    }
    assert slips == {}


def test_a_rule_finds_whole_words_and_lets_its_phrases_pass() -> None:
    rule = trade.Never("en", "laws?", "rule", ("Hooke's law",))
    assert rule.found("By the laws, and Hooke's law; a lawn.") == ["laws"]


@pytest.mark.parametrize("code", NAMES)
def test_a_word_of_the_trade_stands_for_one_thing(code: str) -> None:
    """No two entries have one name or link one form, and no name is another's synonym."""
    words_ = [word for _, all_ in trade.sections(code) for word in all_]
    linked = [form.lower() for word in words_ for form in word.forms]
    names = [word.word.lower() for word in words_]
    assert len(set(linked)) == len(linked) and len(set(names)) == len(names)
    assert {also for word in words_ for also in word.also} & {word.word for word in words_} == set()


# What is gathered.


def test_texts_are_found_in_python() -> None:
    source = """
tr("one " "whole")
language.tr("two {n}", n=later("three"))
tr("four" if x else "five", sense="height")
tr(name)
other("six")
"""
    expected = {"one whole", "two {n}", "three", "four (height)", "five (height)"}
    assert words.in_python(source) == expected


def test_texts_are_found_in_templates() -> None:
    source = """
{% if x %}{{ tr("one {n}", n=1) }}{% endif %}<p title="{{ tr('two') }}">
{{ tr("three" if x else "four", sense="height")|upper }} {{ tr(entry.label) }} tr("five")
"""
    assert words.in_template(source) == {"one {n}", "two", "three (height)", "four (height)"}


def test_texts_are_found_in_scripts() -> None:
    source = """
say(tr("one \\"quoted\\""), tr("two {n}", { n: 1 }));
tr("three, " +
  "four"); later(check); tr(name); str("five");
"""
    assert script_texts.in_script(source) == {'one "quoted"', "two {n}", "three, four"}


def test_what_is_declared_is_gathered() -> None:
    found = words.gathered()
    for form in FORMS:
        assert {form.title, form.asks} <= found
        for entry in form.fields:
            labels = getattr(entry, "parts", ()) or (entry.label,)
            assert {*labels, entry.measure} - {""} <= found
    assert {"Bottle", "right-hand", "Surface", "Mark checked", "turn (part of one)"} <= found
    assert "Bottle 1" not in found


def of_sources(ending: str, read: Callable[[str], set[str]]) -> dict[str, set[str]]:
    """What is read from every source with this ending, by its path."""
    return {
        path.relative_to(words.ROOT).as_posix(): read(path.read_text("utf-8"))
        for folder in ("calc", "site_src")
        for path in (words.ROOT / folder).rglob(f"*.{ending}")
    }


def loose(source: str) -> set[str]:
    """Calls of `tr` and `later` with a text that is put together on the spot: nothing finds it."""
    return {
        ast.unparse(node)
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Call)
        and ast.unparse(node.func).rpartition(".")[2] in ("tr", "later")
        and any(map(is_put_together, node.args))
    }


def is_put_together(text: ast.expr) -> bool:
    match text:
        case ast.IfExp():
            return is_put_together(text.body) or is_put_together(text.orelse)
        case ast.Call(func=ast.Attribute(value=made)):  # "{}".format(...)
            return isinstance(made, ast.Constant) or is_put_together(made)
    return isinstance(text, ast.JoinedStr | ast.BinOp)


def test_a_text_put_together_is_told_from_one_that_is_looked_up() -> None:
    slips = """
tr(f"{n} turns")
language.tr("a" + b)
later("one %s" % thing)
tr("up" if x else f"down {n}", sense="height")
tr("{}".format(n))
"""
    assert len(loose(slips)) == 5
    fine = """
tr("one {n}", n=f"{n}")
tr(self.label)
tr(NAMES[key])
tr("a" if x else B)
tr(str(error))
"""
    assert loose(fine) == set()


def test_every_call_says_a_text_that_can_be_found() -> None:
    """`tr` of anything but a literal is a text marked by `later`, or one that is declared."""
    found = of_sources("py", loose)
    assert {
        "calc/forms/cautions.py",
        "site_src/both/paper/code.py",
    } <= found.keys()  # folders below too
    assert {name: calls for name, calls in found.items() if calls} == {}


IN_QUOTES = re.compile(r"""\b(?:tr|later)\(\s*(?=["'`])""")
WHOLE = re.compile(r'"(?:[^"\\]|\\.)*"(?:\s*\+\s*"(?:[^"\\]|\\.)*")*\s*[,)]')


def loose_in_script(source: str) -> set[str]:
    """Texts in other quotes than double ones, or with more than such texts joined to them."""
    starts = [call.end() for call in IN_QUOTES.finditer(source)]
    return {source[start : start + 60] for start in starts if not WHOLE.match(source, start)}


def test_every_text_of_a_script_can_be_found() -> None:
    slips = """tr('one'); tr(`two ${n}`); tr("three " + n); later("four" + `five`)"""
    assert len(loose_in_script(slips)) == 4
    fine = 'tr("one", { n: 1 }); later(check, "x"); tr("two " +\n  "three")'
    assert loose_in_script(fine) == set()
    found = of_sources("js", loose_in_script)
    assert "site_src/static/head/early.js" in found
    assert {name: calls for name, calls in found.items() if calls} == {}


def loose_in_template(source: str) -> set[str]:
    made = nodes.BinExpr | nodes.Concat | nodes.Filter
    return {
        str(call.args[0])
        for call in Environment().parse(source).find_all(nodes.Call)
        if isinstance(call.node, nodes.Name)
        and call.node.name == "tr"
        and isinstance(call.args[0], made)
    }


def test_every_text_of_a_template_can_be_found() -> None:
    slips = "{{ tr('one ' ~ n) }}{{ tr('two ' + n) }}{{ tr('%s' % n) }}{{ tr('three'|upper) }}"
    assert len(loose_in_template(slips)) == 4
    assert loose_in_template("{{ tr('one {n}', n='a' ~ b)|upper }}{{ tr(entry.label) }}") == set()
    found = of_sources("html", loose_in_template)
    assert "site_src/pages/templates/index.html" in found
    assert {name: calls for name, calls in found.items() if calls} == {}


class Asked(dict[str, str]):
    """A dictionary that notes what is looked up, and marks what it has said."""

    MARK = "\u2063"

    def __init__(self) -> None:
        super().__init__()
        self.keys_asked: set[str] = set()

    def get(self, key: str, default: object = None) -> str:  # type: ignore[override]
        self.keys_asked.add(key)
        return key + self.MARK


# Names that are the same everywhere.
STANDARDS = {"EN 10270-1", "EN 10270-3"}
SYMBOLS = {word for each in units.KINDS.values() for unit in each for word in unit.symbol.split()}


def said_now(reply: Reply) -> Reply:
    """The reply with its later texts in the language spoken now."""
    if reply.answer is None:
        return reply
    later_ones = reply.answer.on_uncertainty()
    return replace(reply, answer=replace(reply.answer, on_uncertainty=lambda: later_ones))


@pytest.fixture(scope="module")
def everything() -> tuple[Asked, list[Reply]]:
    """What the forms and the sheet say of the demo car, marked where it was looked up."""
    asked = Asked()
    try:  # a fixture of this scope is made before the one that goes back to English
        use("de", asked)
        found = [
            said_now(r) for form in FORMS for way in few_ways(form) for r in replies(form, way)
        ]
        sheet(demo())
    finally:
        use(ENGLISH)
    return asked, found


def test_what_is_looked_up_was_gathered(everything: tuple[Asked, list[Reply]]) -> None:
    """A text said twice over carries the mark: it is no key of its own."""
    keys = {key for key in everything[0].keys_asked if key and Asked.MARK not in key}
    assert len(keys) > 500
    assert sorted(keys - words.gathered() - STANDARDS) == []


def test_no_text_of_an_answer_is_without_its_language(
    everything: tuple[Asked, list[Reply]],
) -> None:
    """What carries no mark has no words but symbols and publications."""
    bare = {
        text
        for reply in everything[1]
        for text in [*(texts(reply.answer) if reply.answer else ()), *reply.problems.values()]
        if Asked.MARK not in text
    }
    sources = {w.source for r in everything[1] if r.answer for w in r.answer.working}
    wordy = {text for text in bare - sources if set(re.findall("[a-zA-Z]{3,}", text)) - SYMBOLS}
    assert sorted(wordy) == []


def test_the_dictionaries_are_kept_in_step(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(words, "LANGUAGES", tmp_path)
    monkeypatch.setattr(words, "gathered", lambda: {"b", "a", "turns"})
    monkeypatch.setattr(words, "dictionary", lambda code: {"turns": f"T {code}", "old": "O"})
    assert words.write() == {"de": 2, "es": 2}
    written = (tmp_path / "de.json").read_text("utf-8")
    assert list(json.loads(written).items()) == [("a", ""), ("b", ""), ("turns", "T de")]


# Numbers. Unicode CLDR, decimal sign of de and es: a comma; from memory.


@each_language
def test_numbers_for_a_person_have_the_sign_of_the_language(code: str) -> None:
    with speaking(code):
        assert units.number_text(-0.0125, "length") == "−12,50"
        assert units.entry_text(-0.0125, "length") == "-12,5"
        assert units.show(0.0125, "length") == "12,50\u00a0mm"
        assert units.turns_number(1.3) == "1,30" and units.turns_number(1.25) == "1\u00a01/4"
        assert wait_words(9000) == "2,5\u00a0h"


def test_turns_are_said_with_their_word() -> None:
    shown = {}
    for code in NAMES:
        with speaking(code):
            texts = map(units.turns_text, (0.25, 0.5, 1, 1.25, 0.3))
            shown[code] = [text.replace("\u00a0", " ") for text in texts]
    assert shown == {
        "en": ["1/4 turn", "1/2 turn", "1 turn", "1 1/4 turns", "0.30 turns"],
        "de": [
            "1/4 Umdrehung",
            "1/2 Umdrehung",
            "1 Umdrehung",
            "1 1/4 Umdrehungen",
            "0,30 Umdrehungen",
        ],
        "es": ["1/4 de vuelta", "1/2 vuelta", "1 vuelta", "1 1/4 vueltas", "0,30 vueltas"],
    }


def test_the_way_is_said() -> None:
    with speaking("de"):
        assert turn_words(1.25).replace("\u00a0", " ") == "1 1/4 Umdrehungen nach unten"
        assert way_words(1, "right") == (
            "Im Uhrzeigersinn, von der Kappe her gesehen (spannt die Feder, hebt das Auto)."
        )
    with speaking("es"):
        assert turn_words(-1).replace("\u00a0", " ") == "1 vuelta hacia arriba"


@each_language
@given(value=st.floats(1e-4, 10), kind=st.sampled_from(["length", "rate", "force", "turns"]))
def test_what_is_shown_can_be_typed(code: str, value: float, kind: str) -> None:
    with speaking(code):
        shown = units.entry_text(value, kind)
        assert "." not in shown
        again = parse(shown, kind).value
    in_english = parse(shown.replace(",", "."), kind).value
    assert again == in_english


def test_thousands_are_grouped_by_the_sign_that_is_not_the_decimal_one() -> None:
    for code, twice, once in (("en", "1,234", "1.234"), ("de", "1.234", "1,234")):
        with speaking(code):
            assert parse(once, "length").value == pytest.approx(1.234e-3)
            with pytest.raises(NotANumber) as refused:
                parse(twice, "length")
        assert "1234" in str(refused.value) and once in str(refused.value)


@pytest.mark.parametrize(("code", "word"), [("de", "Umdrehungen"), ("es", "vueltas")])
def test_the_word_for_turns_is_understood_where_it_is_spoken(code: str, word: str) -> None:
    with speaking(code):
        assert parse(f"1,5 {word}", "turns").value == parse("1.5 turns", "turns").value == 1.5
    with pytest.raises(NotANumber):
        parse(f"1.5 {word}", "turns")


# Entries.

PITCH = Number(
    "Thread pitch of the body", "length", (0.5e-3, 1.5e-3), (0.1e-3, 5e-3),
    "Count ten turns of the collar, measure how far it went, divide by ten.", name="pitch",
)  # fmt: skip


def test_an_entry_says_its_texts_in_the_language() -> None:
    assert PITCH.said == PITCH.label and PITCH.said_measure == PITCH.measure
    with speaking("de"):
        assert PITCH.said == "Gewindesteigung"
        assert PITCH.said_measure.startswith("Zehn Umdrehungen")
        assert PITCH.range_text("metric", "usual") == "0,5 bis 1,5 mm"
        with pytest.raises(Refused, match=r"^Gewindesteigung: 9 mm, das ist hier nicht"):
            PITCH.read("9")


def test_a_cell_is_named_in_the_language_spoken_when_it_is_asked() -> None:
    """German nouns keep their capital inside a label; another word loses it."""
    rows = Rows("Corners", (PITCH, Text("Name", 9)), (("a", "Front left"), ("b", "Bottle 2")))
    with speaking("de"):
        german = [cell.said for _, _, cell in rows.cells()]
        assert rows.said_rows[0] == ("a", "Vorn links")
    with speaking("es"):
        spanish = [cell.said for _, _, cell in rows.cells()]
    english = [cell.said for _, _, cell in rows.cells()]
    assert german[:2] == ["Vorn links, Gewindesteigung", "Vorn links, Name"]
    assert spanish[0] == "Delantera izda., paso de rosca"
    assert english == [cell.label for _, _, cell in rows.cells()]
    assert english[2] == "Bottle 2, thread pitch of the body"


def test_a_german_label_keeps_the_capital_of_a_noun_and_loses_that_of_an_adjective() -> None:
    """The official rules of German spelling, § 55 (from memory): nouns are written large."""
    use("de")
    nouns = ["Federrate", "Höhe des Öls", "Loch Ø", "Kick-up des Querlenkerstifts"]
    assert [inside(noun) for noun in nouns] == nouns
    assert inside("Ungefederte Masse") == "ungefederte Masse"
    assert inside("Gewünschtes Öl, bei 25 °C") == "gewünschtes Öl, bei 25 °C"


def test_a_number_behind_a_label_is_left_out_of_the_dictionary() -> None:
    use("es", {"Bottle": "Bote", "Front left": "Delantera izquierda"})
    assert [numbered(text) for text in ("Bottle 12", "Front left")] == [
        "Bote 12",
        "Delantera izquierda",
    ]
    assert inside("Bote") == "bote" and inside("") == ""


# Answers.


def si(answer: Answer | None) -> list[object]:
    """Everything of an answer that is no text."""
    if answer is None:
        return []
    named = [(q.name, q.kind, q.decimals) for q in answer.quantities]
    shape = [len(t.rows) for t in answer.tables] + [len(p.marks) for p in answer.plots]
    stops = [caution.stop for caution in answer.cautions]
    return [named, list(figures(answer)), [w.path for w in answer.writes], shape, stops]


def replies(form: Form, way: Choices) -> list[Reply]:
    """What the demo car gives, what some usual numbers give, and what nonsense gives."""
    typed = usual_entries(form, way, random.Random(form.slug))
    wrong = {name: "x" for _, name, cell in form.cells() if isinstance(cell, Number)}
    return [run(form, one, demo()) for one in (way, typed, {**wrong, **way})]


def said(reply: Reply) -> list[str]:
    answer = reply.answer
    shown = [*texts(answer), answer_text(answer)] if answer else []
    return [*shown, *reply.problems.values(), *reply.filled.values()]


@along_few_or_all
@each_form
def test_a_form_answers_in_every_language_with_the_same_values(form: Form, along: Along) -> None:
    for way in along(form):
        english = replies(form, way)
        for code in OTHERS:
            with speaking(code):
                foreign = replies(form, way)
                for reply in foreign:
                    check_reply(form, reply)
            assert [si(r.answer) for r in foreign] == [si(r.answer) for r in english]
            assert [set(r.problems) for r in foreign] == [set(r.problems) for r in english]
    again = replies(form, way)
    assert [said(reply) for reply in again] == [said(reply) for reply in english]


@each_form
@each_language
def test_numbers_for_a_machine_keep_their_point(form: Form, code: str) -> None:
    english = reply_data(form.slug, run(form, {}, Car()))
    with speaking(code):
        foreign = reply_data(form.slug, run(form, {}, Car()))
    for name, quantity in english["quantities"].items():
        same = ("value", "unit", "si", "u")
        assert [foreign["quantities"][name][key] for key in same] == [quantity[key] for key in same]
    json.dumps(foreign, allow_nan=False)


@each_language
def test_the_sheet_is_said_in_every_language_and_in_english_again(code: str) -> None:
    english = sheet(demo())
    with speaking(code):
        foreign = sheet(demo())
    assert [made.key for made in foreign.blocks] == [made.key for made in english.blocks]
    rows = re.compile(r"frozenset\(\{[\d, ]*\}\)")
    assert "{" not in rows.sub("", str(foreign))
    assert sheet(demo()) == english


@each_language
def test_the_log_is_said_in_every_language(code: str) -> None:
    at = Moment("a1", "b1", 1.9e9, 3600.0)
    base = set_base(Car(), at)
    car, entry = check(Car(), at, CORNERS[0], -0.25)
    with speaking(code):
        shown = view(car, [base, entry], 1.9e9 + 60, 3600.0, "metric")
        sheet_text = to_csv([base, entry], {"b1": "car"})
    assert shown.home and "{" not in str(shown)
    assert "-0.25" in sheet_text and "-0,25" not in sheet_text
    if code == "de":
        assert shown.corners[0].looked.startswith("Marke geprüft")
        assert shown.home[0].text.startswith("Stellring vorn links: 1/4\u00a0Umdrehung nach unten")
