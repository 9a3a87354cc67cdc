"""Limits in a cell: “left shoulder not above 90; no standing (Dr Okoro 2026-05-02)” and back."""

import re
from dataclasses import dataclass
from datetime import date

from halewright.core import units
from halewright.core.people.limits import BodySide, Limit, Measure, Strength
from halewright.files import quantities, tables

RULE = "told"
BY_THE_PERSON = "told by the person"

_COMPARE = (
    r"(?:is |to |are )?(?:at most|no more than|not more than|not above|no higher than"
    r"|not higher than|not past|not beyond|not over|no further than"
    r"|below|under|up to|max(?:imum)?|limited to|≤|<=)"
)
_CLINICIAN = re.compile(
    r"\b(dr|doctor|gp|physio\w*|nurse|surgeon|consultant|therapist|clinician|hospital|clinic|ot)\b",
    re.I,
)
_CARE = re.compile(r"^(?:with care|take care|care)\s*[:,]?\s+", re.I)
_DATE = re.compile(
    r"\s*,?\s*(\d{4}-\d{2}-\d{2}|\d{1,2}/\d{1,2}/\d{2,4}|\d{1,2} \w{3,9}\.? \d{4})\s*$"
)
_MEND = (
    "“{}” is not a limit this programme knows. Write it as: left shoulder not above 90; "
    "hip flexion at most 90 right (Dr Okoro 2026-05-02); no standing; band at most 30 N; "
    "no overhead. Put anything else in the notes."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Phrase:
    """The ways to name a measure; the first name is the one written. `no` are things to avoid."""

    measure: Measure
    names: tuple[str, ...]
    no: tuple[str, ...] = ()
    unit: str = ""


_PHRASES = (
    _Phrase(
        measure=Measure.SHOULDER_ELEVATION,
        names=("shoulder", "shoulder elevation", "shoulder raise", "arm", "arms", "arm raise",
               "shoulder flexion", "shoulder abduction", "shoulders"),
        unit="degrees",
    ),
    _Phrase(
        measure=Measure.SHOULDER_EXTENSION,
        names=("shoulder extension", "arm behind"),
        no=("arm behind back", "arms behind back"),
        unit="degrees",
    ),
    _Phrase(
        measure=Measure.SHOULDER_EXTERNAL_ROTATION,
        names=("shoulder external rotation", "shoulder rotation outwards"),
        unit="degrees",
    ),
    _Phrase(
        measure=Measure.ELBOW_FLEXION, names=("elbow flexion", "elbow bend", "elbow"),
        unit="degrees",
    ),
    _Phrase(
        measure=Measure.HIP_FLEXION, names=("hip flexion", "hip bend", "hip"), unit="degrees"
    ),
    _Phrase(
        measure=Measure.HIP_ADDUCTION,
        names=("hip adduction", "hip past the midline"),
        no=("crossing legs", "crossed legs", "crossing the midline", "crossing the legs"),
        unit="degrees",
    ),
    _Phrase(
        measure=Measure.HIP_INTERNAL_ROTATION,
        names=("hip internal rotation", "hip turned in", "hip rotation inwards"),
        no=("turning the leg in", "turning leg in"),
        unit="degrees",
    ),
    _Phrase(measure=Measure.HIP_EXTENSION, names=("hip extension",), unit="degrees"),
    _Phrase(
        measure=Measure.KNEE_FLEXION, names=("knee flexion", "knee bend", "knee"), unit="degrees"
    ),
    _Phrase(
        measure=Measure.TRUNK_FLEXION_LOADED,
        names=("loaded trunk flexion", "trunk flexion loaded", "loaded forward bend"),
        no=("loaded bending", "bending with load", "bending with a band"),
        unit="degrees",
    ),
    _Phrase(
        measure=Measure.TRUNK_FLEXION,
        names=("trunk flexion", "forward bend", "back bend forwards"),
        no=("bending", "forward bending", "bending forward", "bending forwards"),
        unit="degrees",
    ),
    _Phrase(
        measure=Measure.TRUNK_ROTATION_LOADED,
        names=("loaded trunk rotation", "trunk rotation loaded", "loaded twist"),
        no=("loaded twisting", "twisting", "twisting with a band", "twisting with load"),
        unit="degrees",
    ),
    _Phrase(
        measure=Measure.NECK_EXTENSION,
        names=("neck extension", "head back"),
        no=("head back", "looking up", "tipping the head back"),
        unit="degrees",
    ),
    _Phrase(measure=Measure.KNEE_LOAD, names=("knee load",)),
    _Phrase(measure=Measure.BALANCE, names=("balance", "balance challenge")),
    _Phrase(measure=Measure.GRIP, names=("grip",), no=("gripping", "tight grip")),
    _Phrase(
        measure=Measure.BREATH_HOLD,
        names=("breath hold",),
        no=("breath holding", "holding breath", "holding the breath"),
    ),
    _Phrase(measure=Measure.STEPS_TO_REMEMBER, names=("steps to remember", "steps")),
    _Phrase(
        measure=Measure.RISES,
        names=("rises", "sit to stands", "rises a round"),
        no=("rising", "sit to stand", "sit to stands", "rises"),
    ),
    _Phrase(measure=Measure.STANDING, names=("standing level",), no=("standing",)),
    _Phrase(measure=Measure.BAND, names=("bands",), no=("band", "bands")),
    _Phrase(
        measure=Measure.FOOT_ANCHOR,
        names=("bands under feet",),
        no=("band under feet", "band under foot", "band underfoot", "foot anchor"),
    ),
    _Phrase(
        measure=Measure.PULL_TOWARDS_FACE,
        names=("pulls towards the face",),
        no=("pull towards the face", "pulling towards the face", "pull towards face"),
    ),
    _Phrase(
        measure=Measure.BAND_ON_SKIN,
        names=("bands on skin",),
        no=("band on skin", "band on the skin", "wrapping", "wrapping the band"),
    ),
    _Phrase(
        measure=Measure.ARMS_OVERHEAD,
        names=("arms overhead",),
        no=("overhead", "arms overhead", "reaching overhead", "overhead reach", "arm overhead"),
    ),
    _Phrase(
        measure=Measure.POWER, names=("fast movements",), no=("power", "fast movements", "speed")
    ),
    _Phrase(measure=Measure.TENSION, names=("band", "tension", "band tension", "pull"), unit="N"),
)  # fmt: skip
_BY_MEASURE = {phrase.measure: phrase for phrase in _PHRASES}
_SUPPORTS = {"two hands": 1.0, "both hands": 1.0, "one hand": 2.0, "fingertips": 3.0}
"""How a standing limit may be written: “standing only with two hands” is at most 1."""


def read(value: tables.Value, unit: str = "") -> tuple[Limit, ...] | quantities.Unread:
    """Read every limit of a cell; semicolons, or line ends, stand between them."""
    del unit
    found: list[Limit] = []
    bad: list[str] = []
    for clause in re.split(r"[;\n]", quantities.text(value)):
        spelt = clause.strip()
        if not spelt.strip(".") or spelt.casefold().rstrip(".") in ("none", "no", "no limits"):
            continue
        limit = _limit(spelt)
        if limit is None:
            bad.append(spelt)
        else:
            found.append(limit)
    return quantities.Unread(_MEND.format("” and “".join(bad))) if bad else tuple(found)


def written(limits: tuple[Limit, ...]) -> str:
    """Return limits such that `read` gives them back."""
    return "; ".join(_clause(limit) for limit in limits)


def told(
    *,
    measure: Measure,
    at_most: float,  # unit: the measure's own
    strength: Strength = Strength.AVOID,
    side: BodySide = BodySide.BOTH,
    reason: str = "",
    told_by: str | None = None,
    source: str = "",
    reviewed_on: date | None = None,
) -> Limit:
    """Make a limit as a group folder holds it; without a reason it is the limit in words."""
    return Limit(
        measure=measure,
        at_most=at_most,
        strength=strength,
        reason=reason or _words(measure=measure, at_most=at_most, side=side),
        source=told_by or source or BY_THE_PERSON,
        rule=RULE,
        side=side,
        reviewed_on=reviewed_on,
        told_by=told_by,
    )


def _limit(clause: str) -> Limit | None:
    body, told_by, source, reviewed_on = _teller(clause)
    body, *reasons = re.split(r"\s+because\s+", body, maxsplit=1, flags=re.I)
    care = _CARE.match(body)
    body = body[care.end() :] if care else body
    plain = re.sub(r"[\s\-]+", " ", body.casefold()).replace("°", " degrees").strip(" .:,")
    side, plain = _side(plain)
    found = _measured(plain)
    if found is None:
        return None
    measure, at_most = found
    return told(
        measure=measure,
        at_most=at_most,
        strength=Strength.CARE if care else Strength.AVOID,
        side=side,
        reason="".join(reasons).strip(),
        told_by=told_by,
        source=source,
        reviewed_on=reviewed_on,
    )


def _teller(clause: str) -> tuple[str, str | None, str, date | None]:
    """Split off the bracket: the clinician who told it, else its source, and the date."""
    found = re.fullmatch(r"(.*?)\s*\(([^()]*)\)\.?", clause, re.S)
    if found is None:
        return clause, None, "", None
    body, bracket = found[1], found[2].strip()
    dated = _DATE.search(bracket)
    on = quantities.day(dated[1]) if dated else None
    if not isinstance(on, date):
        on, dated = None, None
    name = bracket[: dated.start()].strip(" ,") if dated else bracket
    said = re.match(r"told by\s+", name, re.I)
    if said and name.casefold() != BY_THE_PERSON:
        return body, name[said.end() :], "", on
    return body, name if _CLINICIAN.search(name) else None, name, on


def _side(plain: str) -> tuple[BodySide, str]:
    for side, words in (
        (BodySide.LEFT, r"\b(left|lt|l)\b"),
        (BodySide.RIGHT, r"\b(right|rt|r)\b"),
        (BodySide.BOTH, r"\b(both sides?|either|both)\b(?! hands)"),
    ):
        if re.search(words, plain):
            return side, re.sub(r"\s+", " ", re.sub(words, " ", plain, count=1)).strip()
    return BodySide.BOTH, plain


def _measured(plain: str) -> tuple[Measure, float] | None:
    supported = re.fullmatch(r"stand(?:ing)? (?:only )?(?:with|holding) (.+?)(?: held)?", plain)
    if supported and supported[1] in _SUPPORTS:
        return Measure.STANDING, _SUPPORTS[supported[1]]
    if plain in ("seated only", "sitting only"):
        return Measure.STANDING, 0.0
    avoided = re.fullmatch(r"(?:no|not|avoid|never|without) (?:any )?(.+)", plain)
    compared = re.fullmatch(rf"(.+?) {_COMPARE} (\d+(?:\.\d+)?) ?(degrees|deg|n|newtons?)?", plain)
    for phrase in _PHRASES:
        if avoided and avoided[1] in phrase.no:
            return phrase.measure, 0.0
        if compared and compared[1] in phrase.names and _fits(phrase, said=compared[3] or ""):
            size = float(compared[2])
            return phrase.measure, units.radians(size) if phrase.unit == "degrees" else size
    return None


def _fits(phrase: _Phrase, *, said: str) -> bool:
    """Whether the unit that was said, if any, is the measure's own."""
    return not said or (said[0] == "d") == (phrase.unit == "degrees")


def _words(*, measure: Measure, at_most: float, side: BodySide) -> str:
    phrase = _BY_MEASURE[measure]
    aside = "" if side is BodySide.BOTH else f"{side.value} "
    if at_most == 0 and phrase.no:
        return f"{aside}no {phrase.no[0]}"
    if phrase.unit == "degrees":
        return f"{aside}{phrase.names[0]} at most {_degrees(at_most)} degrees"
    after = " N" if phrase.unit == "N" else ""
    return f"{aside}{phrase.names[0]} at most {quantities.number_text(at_most)}{after}"


def _degrees(angle_rad: float) -> str:
    """Return the shortest figures that read back as the same angle."""
    angle_deg = units.degrees(angle_rad)
    for places in range(13):
        if units.radians(round(angle_deg, places)) == angle_rad:
            return quantities.number_text(round(angle_deg, places))
    return quantities.number_text(angle_deg)


def _clause(limit: Limit) -> str:
    words = _words(measure=limit.measure, at_most=limit.at_most, side=limit.side)
    care = "care: " if limit.strength is Strength.CARE else ""
    why = "" if limit.reason == words else f" because {_inside(limit.reason)}"
    name = limit.told_by or ("" if limit.source == BY_THE_PERSON else limit.source)
    if limit.told_by and not _CLINICIAN.search(limit.told_by):
        name = f"told by {name}"
    on = "" if limit.reviewed_on is None else limit.reviewed_on.isoformat()
    bracket = " ".join(part for part in (_inside(name), on) if part)
    return f"{care}{words}{why}" + (f" ({bracket})" if bracket else "")


def _inside(words: str) -> str:
    """Return words without the signs that stand between limits and round who told them."""
    return re.sub(r"[;\n]+", ",", words).replace("(", "[").replace(")", "]")
