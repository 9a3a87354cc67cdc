"""Stop signs and what to do, in the order in which it is done.

Sources: emergency procedures table, European Review of Aging and Physical Activity (2006); a
hospital group's leaflet on when to stop exercising; an anaphylaxis charity's factsheet on latex
(2019). The order of the drill is common practice. A local rule comes before all of it.
"""

from typing import Final

STOP_NOW: Final = (
    "Pain or tightness in the chest, arm, jaw or back",
    "Faint, blackout or collapse",
    "Too breathless to speak a sentence",
    "Sudden weakness or numbness, a drooping face, muddled speech",
    "Sudden severe headache, or loss of sight",
    "Heart racing or uneven, and feeling unwell",
    "Cold sweat, grey colour, vomiting",
    "Sudden severe pain in a joint or bone, or a crack",
    "A band that struck the eye",
    "Rash, swollen lips or wheeze after handling a band",
)
"""Stop this person now, and hold the class."""

SIT_AND_ASK: Final = (
    "Light-headed on rising",
    "Unusually tired",
    "New pain in a joint",
    "Wobbly",
    "Shaky, hungry or confused: low sugar?",
    "Distressed",
)
"""Ease off, sit, water, watch, ask."""

DRILL: Final = (
    "Hold the class: “Sit tall, feet moving, bands down.”",
    "Leader to the person, helper to the phone.",
    "Ring for an ambulance: say the address, the entrance and the door.",
    "Defibrillator and first-aid box to the person.",
    "One person goes out to meet the crew.",
    "Ring the person’s emergency contact.",
    "Settle the class, or end it. No one leaves unsteady.",
    "Write down the facts within the hour.",
)
"""What to do, in order."""
