"""Grammar by LingoTweaker, a port of the LanguageTool rules that works without a network.

Every text on screen, paper and command line, all guides and the glossary, in three languages; its
spelling is left to `test_spelling`. A rule is off where our texts break it on purpose, a place is
let pass where the rule errs: each with its reason.
"""

import re
import sys
from collections.abc import Iterator
from typing import Any

import pytest

from site_src.build.toolchain import apart
from site_src.pages import words as trade
from tests.texts import BROKEN, texts

ENGINES = {"en": "en-GB", "de": "de-DE", "es": "es"}
LABELS = "labels, table heads and answers in parts are no sentences"
SIGNS = "“3 : 1” and “thin : thick” are ratios"
OFF: dict[str, dict[str, str]] = {
    "en": {
        "UPPERCASE_SENTENCE_START": LABELS,
        "SENT_START_CONJUNCTIVE_LINKING_ADVERB_COMMA": "“Otherwise it is tweaked” needs no comma",
        "MISSING_COMMA_AFTER_INTRODUCTORY_PHRASE": "short ones have none",
        "ENGLISH_WORD_REPEAT_BEGINNING_RULE": "one thing keeps one word",
        "AFTERWARDS_US": "we write British English",
        "PER_CENT": "we write British English",
        "CD_NN": "counts stand for a number",
        "A_BIT_OF": "“a pair side by side”",
        "NO_COMMA_BEFORE_SO": "so with the meaning of therefore",
    },
    "de": {
        "UPPERCASE_SENTENCE_START": LABELS,
        "KOMMA_VOR_UND_ODER": "two questions in one title",
        "FEHLERHAFTES_KOMMA_ALLG": "ranges behind a comma",
        "GERMAN_WORD_REPEAT_BEGINNING_RULE": "one thing keeps one word",
        "AUFFORDERUNG_SIE": "sie are the things before",
        "EMPFOHLENE_GETRENNTSCHREIBUNG": "nichtrostend is as good",
        "DAS_BESTE_AM": "das eigene is the oil before",
        "LEERZEICHEN_VOR_AUSRUFEZEICHEN_ETC": SIGNS,
    },
    "es": {
        "UPPERCASE_SENTENCE_START": LABELS,
        "AGREEMENT_NUMERAL_PLURAL": "the number of a place in a drawing, or a measure",
        "AGREEMENT_POSTPONED_ADJ": "takes verbs for adjectives",
        "INCORRECT_SPACES": SIGNS,
    },
}
FINE: dict[str, dict[str, tuple[str, ...]]] = {
    "en": {
        "UNLIKELY_OPENING_PUNCTUATION": (", or",),
        "A_INSTALL": ("the install button",),
        "COMMA_COMPOUND_SENTENCE_2": ("rear right corner go down",),
    },
    "de": {
        "ETWAS_GUTES": ("gleich viel neues",),
        "ZUSAMMENSCHREIBUNG_HIN": ("heraus und hinein bewegt",),
        "ZUSAMMENSCHREIBUNG_HER": ("Umdrehung heraus gibt",),
        "DE_AGREEMENT": ("um ein Mehrfaches",),
        "KOMMA_NACH_DIREKTER_REDE": ("„Zurück zur Basis“ sagt",),
        "SUBJUNKTION_KOMMA_2": ("Dass der Radträger kippt.",),
        "KOMMA_DASS": ("wie stark das die Feder",),
        "HOCH_ZUSAMMENSCHREIBUNG": ("gleich hoch steht",),
        "NOMEN_KLEIN": ("die zwei eines Paars",),
        "DOPPELPUNKT_GROSS": (
            "was gemessen wurde", "selbst eingetippt", "welche Blasen", "ein Stellring gedreht",
            "was ein Pfund", "der ganz ausgezogene", "was bereitliegen muss",
        ),
        "DE_CASE": (
            "Unnötiges löschen", "Geändertes mit", "Unbekanntes steht", "Verschüttetes aufwischen",
        ),
    },
    "es": {
        "CAPITALIZATION_AFTER_QUESTION_MARK": ("? supuesto", "Un valor con", "«¡Alto!» está"),
        "ES_QUESTION_MARK": ("Un valor con",),
        "NOUN_PLURAL2": ("Masa de vástago",),
        "MI_TILDE": ("en lugar de mi «",),
        "EL_TILDE": ("o por detrás del trasero",),
        "IR_PARTICIPIO_GERUNDIO": ("cuánto va descentrado",),
        "SINGLE_CHARACTER": ("r radio de un agujero", "mPa s dieron"),
        "AUN": ("rosca aún dentro",),
        "ESO_ESE": ("llamar a eso cero",),
        "DE_TILDE": ("el ± de al lado",),
        "AGREEMENT_DET_ADJ": ("cuánto menos segura",),
        "AGREEMENT_ADJ_NOUN": ("Quita hundimiento", "izquierda y derecha iguales"),
        "ES_UNPAIRED_BRACKETS": ("Engineers' Handbook",),
        "PHRASE_REPETITION": ("De anclaje a anclaje",),
        "SUBJUNTIVO_INCORRECTO": ("iguales",),
        "AGREEMENT_SUBJECT_VERB_PL_SG": ("Los dedos fuera",),
        "COMMA_MARCADOR_DISCURSIVO": ("y por tanto",),
    },
}  # fmt: skip
"""Rule -> words of the texts in which it sees a fault, and there is none."""

PASSED_OVER = "about after again"
"""How the list of words begins that Find passes over: it is no sentence."""
PARAGRAPH = re.compile(r"\n\s*\n|\n(?=[-#|]|\d+\.)")
NO_PROSE = re.compile(r"[|!:]|\{\{")  # rows of a table, pictures, what the build fills in
MARKS = re.compile(r"^(#+|[-*]|\d+\.) +|[`*_]")
NAMED = re.compile(r"\*\*([^*]+)\*\*|\[([^\]]+)\]\([^)]*\)")  # buttons, other pages


def paragraphs(code: str) -> Iterator[str]:
    """Every text a sentence or more at a time, its parts filled in."""
    glossary = (word.means for _, words in trade.sections(code) for word in words)
    said = (text for where, text in texts(code) if not where.startswith(PASSED_OVER))
    for text in (*said, *glossary):
        for piece in PARAGRAPH.split(BROKEN.sub("", text)):
            if piece.strip() and not NO_PROSE.match(piece.strip()):
                yield plain(" ".join(piece.split()), code)


def plain(text: str, code: str) -> str:
    """Without marks; a name stands in quotes, a number for a part."""
    left, right = {"en": "“”", "de": "„“", "es": "«»"}[code]
    text = NAMED.sub(lambda name: f"{left}{name[1] or name[2]}{right}", text)
    text = re.sub(r"\{\w+\}", "7", text.replace("{end}s", "delanteros"))
    return MARKS.sub("", re.sub(r"<[^>]+>", "", text))


def faults(engine: Any, text: str, code: str) -> Iterator[str]:
    """The faults in a text: rule, what it says of it, the text."""
    for match in engine.check(text):
        rule = match["rule_id"]
        spelling = match["category_id"] == "TYPOS" or "SPELL" in rule or "MORFOLOGIK" in rule
        fine = any(words in text for words in FINE[code].get(rule, ()))
        if not (spelling or fine or rule in OFF[code]):
            yield f"{rule}: {match['message']} {text}"


@pytest.mark.wide("reads every text of three languages by rules that are 100 MB to install")
@pytest.mark.parametrize("code", ENGINES)
def test_no_rule_of_grammar_is_broken(code: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "path", [*sys.path, str(apart("grammar"))])
    import lt_py

    engine = lt_py.Engine(ENGINES[code])
    slip = {"en": "He have a car.", "de": "Der Auto fährt.", "es": "La coche es rojo."}[code]
    assert list(faults(engine, slip, code))  # else nothing is read
    assert [fault for text in paragraphs(code) for fault in faults(engine, text, code)] == []
