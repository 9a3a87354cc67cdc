"""The words of every movement can be read, and heard, by anybody."""

import re
from importlib import resources

import pytest

from halewright.core.catalogue import wording
from halewright.core.catalogue.movement import Movement
from halewright.files import movements

_FOLDER = resources.files("halewright").joinpath("data/movements")
_CATALOGUE, _ = movements.read_folder(_FOLDER)

MOST_GRADE = 6.0
"""School years, so a reading age of about eleven: common practice for health leaflets."""
_SENTENCE = re.compile(r"[.;:!?]")
_WORD = re.compile(r"[A-Za-z’']+")
_VOWELS = re.compile(r"[aeiouy]+")


def syllables(word: str) -> int:
    """Return the syllables of a word as its groups of vowels tell them, a silent e left out."""
    word = word.lower()
    count = len(_VOWELS.findall(word))
    is_silent = word.endswith("e") and not word.endswith("le")
    return max(1, count - 1 if is_silent else count)


def grade(texts: list[str]) -> float:
    """Return the reading grade: 0.39 words a sentence + 11.8 syllables a word - 15.59.

    Source: Kincaid et al. 1975, Naval Technical Training Command report 8-75 (from memory).
    """
    sentences = [
        words for text in texts for part in _SENTENCE.split(text) if (words := _WORD.findall(part))
    ]
    count = sum(len(words) for words in sentences)
    sounds = sum(syllables(word) for words in sentences for word in words)
    return 0.39 * count / len(sentences) + 11.8 * sounds / count - 15.59


@pytest.mark.parametrize("movement", _CATALOGUE.values(), ids=list(_CATALOGUE))
def test_a_movements_words_are_plain(movement: Movement) -> None:
    """All that is said of a movement reads at six school years or fewer."""
    told = [text for place, text in wording.words_of(movement) if place != "source"]

    assert grade(told) <= MOST_GRADE


def test_the_grade_of_a_sentence_by_hand() -> None:
    """“Lift one knee slowly.”: 4 words, 5 syllables: 1.56 + 14.75 - 15.59 = 0.72."""
    assert grade(["Lift one knee slowly."]) == pytest.approx(0.72, abs=0.005)


def test_long_words_are_told() -> None:
    """A sentence of the kind that journals print is far above the limit."""
    assert grade(["Perform bilateral glenohumeral abduction isometrically."]) > MOST_GRADE
