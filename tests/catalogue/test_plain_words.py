"""The two documents for leaders: every word of the trade explained, nothing promised too much."""

import re
from pathlib import Path

import pytest

from halewright.core.catalogue import wording
from halewright.core.catalogue.words import SetUp

DOCS = Path(__file__).parents[2] / "docs"
GLOSSARY = (DOCS / "glossary.md").read_text("utf-8")
INTENDED_USE = (DOCS / "intended-use.md").read_text("utf-8")

WORDS = (
    "Leader",
    "Participant",
    "Group",
    "Venue",
    "Block",
    "Session",
    "Warm-up",
    "Main part",
    "Cool-down",
    "Station",
    "Round",
    "Work interval",
    "Changeover",
    "Movement",
    "Option",
    "Set-up",
    "Grip length",
    "Grip mark",
    "Tension",
    "Stretch ratio",
    "Joint moment",
    "Sit-to-stand",
    "Effort",
    "Reps",
    "Tempo",
    "Hold",
    "Side",
    "Run sheet",
    "Home sheet",
    "Hall screen",
    "Remote",
    "Register",
    "Health screen",
    "Caution",
    "Stop sign",
    "Incident",
    "Test day",
    "Norm",
    "Debrief",
    "Force at twice its slack length",
)
"""The trade's words, which every screen and sheet uses."""

NEVER_DECIDED = (
    "makes exercise safe",
    "medicine",
    "chest pain",
    "after an operation",
    "diagnosis",
    "consent",
    "lift somebody",
    "reported to an authority",
    "rehabilitation",
)


@pytest.mark.parametrize("word", WORDS)
def test_every_word_is_explained(word: str) -> None:
    """Each word of the trade has its own entry in the glossary, in a sentence or more."""
    entry = re.search(rf"^\*\*{re.escape(word)}\.\*\* (.+)$", GLOSSARY, re.MULTILINE)

    assert entry is not None
    assert len(entry.group(1).split()) >= 4


@pytest.mark.parametrize("set_up", SetUp, ids=lambda s: s.value)
def test_every_set_up_is_explained(set_up: SetUp) -> None:
    """Each place that a band can be is in the glossary's table."""
    assert f"| {set_up.value.replace('_', ' ')} |" in GLOSSARY


@pytest.mark.parametrize("matter", NEVER_DECIDED)
def test_what_is_never_decided_is_written_down(matter: str) -> None:
    """Each matter that neither leader nor programme decides stands in its own section."""
    section = INTENDED_USE.split("## What it never decides")[1].split("\n## ")[0]

    assert matter in section


def test_the_medical_device_question_is_left_to_whoever_deploys() -> None:
    """The document claims no standing with any authority and says who must settle it."""
    assert "for whoever deploys it to settle" in INTENDED_USE


@pytest.mark.parametrize("text", [GLOSSARY, INTENDED_USE], ids=["glossary", "intended use"])
def test_the_documents_avoid_the_words_the_trade_avoids(text: str) -> None:
    """No word that belittles people, no colour of a band, no brand."""
    for avoided in (wording.AVOIDED, wording.COLOURS, wording.MARKS):
        assert avoided.search(text) is None
