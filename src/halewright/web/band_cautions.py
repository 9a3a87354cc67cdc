"""What stands on every page and sheet that shows a load or a measuring, in one place.

Source: common practice, after reported eye injuries from bands that let go (needs research §4.3).
"""

USING = (
    "Look each band over from end to end first. Nicked, torn, tacky, whitened or faded: bin it, "
    "never mend it.",
    "Keep every face, and everybody near, out of the line of pull.",
    "A firm, fixed anchor: a chair that cannot move, or the middle of a shoe with a grooved sole, "
    "toes up. No bare foot, sock or slipper.",
    "Where a band is fixed to something: a clip or a strap, never a bare hook through the rubber.",
    "Let the band back slowly. Nobody lets go while it is stretched.",
    "Latex: only bands known to be latex-free for anybody who reacts to it or has not been asked.",
    "Measuring a band: eye protection, every time.",
)
MEASURING = (
    "Look the band over from end to end first. Nicked, torn, tacky, whitened or faded: do not "
    "stretch it, bin it.",
    "Wear eye protection: a band or a clip that lets go can blind.",
    "Keep your face, and everybody else, out of the line of pull.",
    "Use a firm, fixed anchor that cannot tip or slide. Wear shoes; never anchor on a foot.",
    "Hold the band with a clip or a loop of strap, never with a bare hook through the rubber.",
    "Stretch no further than the limit on this page. Go back slowly; never let go.",
    "Latex: somebody who reacts to latex does not measure a latex band.",
)
