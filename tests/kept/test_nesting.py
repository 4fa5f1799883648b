"""Depth of JSON, against a count bracket by bracket of what is put together here."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.kept.nesting import DEEPEST, too_deep

TEXTS = st.text(st.sampled_from('[]{}"\\,:a\n'), max_size=12)
JSON = st.recursive(
    TEXTS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXTS, inner, max_size=3),
    max_leaves=30,
)


def depth(value: Any) -> int:
    if not isinstance(value, dict | list):
        return 0
    return 1 + max(map(depth, value.values() if isinstance(value, dict) else value), default=0)


@given(inner=JSON, around=st.integers(0, DEEPEST + 5))
def test_depth_is_counted_whatever_texts_hold(inner: Any, around: int) -> None:
    value = inner
    for n in range(around):
        value = [value] if n % 2 else {"a": value}
    assert too_deep(json.dumps(value)) == (depth(value) > DEEPEST)


@pytest.mark.parametrize(
    "text", ["[", "]", '{"a":' * 9000, "[" * 40_000, "[" * 5000 + "]" * 5000, '["', '[["a\\']
)
def test_brackets_that_are_not_closed_are_too_deep(text: str) -> None:
    assert too_deep(text)


@pytest.mark.parametrize(
    ("text", "deep"),
    [
        ('\\"' * 2_000_000, False), ('"' * 3_999_999, False), ("[]" * 2_000_000, False),
        ("{" * 4_000_000, True),
    ],
)  # fmt: skip
def test_hostile_texts_take_no_longer_than_long_ones(text: str, deep: bool) -> None:
    """Time grows with the length; with its square this would never end."""
    assert too_deep(text) == deep
