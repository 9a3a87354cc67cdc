"""The people whom the figure can show: builds, ages, hair, skin and clothes for a leader to choose.

A look belongs to a group's pictures, never to a named person. No look wears coral, which means the
band, nor amber or red; every trouser lets the band stand out at 3:1 (a test computes it).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from halewright.core.mechanics import skeleton
from halewright.core.mechanics.skeleton import Body
from halewright.core.people.person import Sex
from halewright.media import palette


class HairStyle(StrEnum):
    """How the hair is worn, or what covers it."""

    BUN = "bun"
    SHORT = "short"
    BALD = "bald"
    CURLS = "curls"
    BOB = "bob"
    SCARF = "scarf"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tones:
    """One colour in light and shade, on the near side of the body and on the far side."""

    near: str
    near_shade: str
    far: str
    far_shade: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """One person's appearance; `words` tell a leader what to choose by.

    `eye_white` is drawn round dark eyes on dark skin, where it is not empty.
    `girth_ratio` widens trunk and limbs as drawn; `stature_m` and `mass_kg` are the body's.
    """

    words: str
    skin: Tones
    hair: str
    hair_shade: str
    style: HairStyle
    shirt: Tones
    trousers: Tones
    has_glasses: bool = False
    has_hearing_aid: bool = False
    eye_white: str = ""
    girth_ratio: float = 1.0
    stature_m: float = 1.62
    mass_kg: float = 68.0

    @property
    def body(self) -> Body:
        """Return the body of this size, in the proportions that the shapes are drawn for."""
        return skeleton.body(stature_m=self.stature_m, mass_kg=self.mass_kg, sex=Sex.FEMALE)


def _tones(near: str, near_shade: str, far: str, far_shade: str) -> Tones:
    return Tones(near=near, near_shade=near_shade, far=far, far_shade=far_shade)


LIGHT = _tones(palette.SKIN, palette.SKIN_SHADE, palette.SKIN_FAR, palette.SKIN_FAR_SHADE)
ROSE = _tones("#F0C9B0", "#DDAA8C", "#E0B498", "#CD9C7F")
TAN = _tones("#C68F63", "#AC764C", "#B37E55", "#996742")
BROWN = _tones("#8D5B3C", "#74472D", "#7C4F34", "#653E27")
DARK = _tones("#63402C", "#4D301F", "#553625", "#41291B")

EYE_WHITE = "#EFE7DD"

TEAL = _tones(palette.SHIRT, palette.SHIRT_SHADE, palette.SHIRT_FAR, palette.SHIRT_FAR_SHADE)
PLUM = _tones("#7A4E78", "#643E63", "#673F65", "#533252")
LEAF = _tones("#5E8057", "#4C6A46", "#4F6E49", "#405A3B")
SKY = _tones("#6C93B5", "#567A9A", "#5B819F", "#496B87")
SAND = _tones("#B9A98C", "#9F8F73", "#A49478", "#8B7C62")

NAVY = _tones(
    palette.TROUSERS, palette.TROUSERS_SHADE, palette.TROUSERS_FAR, palette.TROUSERS_FAR_SHADE
)
SLATE = _tones("#464E57", "#373E46", "#3A4149", "#2E343B")
COCOA = _tones("#4A3B35", "#3A2E29", "#3E312C", "#2F2521")

DEFAULT = Look(
    words="silver hair in a bun, teal shirt",
    skin=LIGHT,
    hair=palette.HAIR,
    hair_shade=palette.HAIR_SHADE,
    style=HairStyle.BUN,
    shirt=TEAL,
    trousers=NAVY,
)

PEOPLE: Mapping[str, Look] = MappingProxyType(
    {
        "silver-bun": DEFAULT,
        "bald-glasses": Look(
            words="bald with a white fringe, glasses, sky shirt",
            skin=ROSE,
            hair="#E4E4E2",
            hair_shade="#C9CACA",
            style=HairStyle.BALD,
            shirt=SKY,
            trousers=SLATE,
            has_glasses=True,
            girth_ratio=1.08,
            stature_m=1.72,
            mass_kg=82.0,
        ),
        "grey-curls": Look(
            words="grey curls, dark skin, plum shirt",
            skin=DARK,
            eye_white=EYE_WHITE,
            hair="#8E9096",
            hair_shade="#73757C",
            style=HairStyle.CURLS,
            shirt=PLUM,
            trousers=NAVY,
            girth_ratio=1.14,
            mass_kg=84.0,
        ),
        "dark-bob": Look(
            words="dark bob, tan skin, leaf shirt, glasses",
            skin=TAN,
            eye_white=EYE_WHITE,
            hair="#4A4340",
            hair_shade="#37312F",
            style=HairStyle.BOB,
            shirt=LEAF,
            trousers=SLATE,
            has_glasses=True,
            girth_ratio=0.92,
            stature_m=1.54,
            mass_kg=52.0,
        ),
        "short-hearing-aid": Look(
            words="short white hair, brown skin, hearing aid, sand shirt",
            skin=BROWN,
            eye_white=EYE_WHITE,
            hair="#DEDEDC",
            hair_shade="#BFC0C0",
            style=HairStyle.SHORT,
            shirt=SAND,
            trousers=COCOA,
            has_hearing_aid=True,
            stature_m=1.70,
            mass_kg=72.0,
        ),
        "headscarf": Look(
            words="headscarf, tan skin, teal shirt",
            skin=TAN,
            eye_white=EYE_WHITE,
            hair="#6E6A9A",
            hair_shade="#58557F",
            style=HairStyle.SCARF,
            shirt=TEAL,
            trousers=COCOA,
            girth_ratio=1.05,
            stature_m=1.58,
            mass_kg=70.0,
        ),
    }
)
"""By a name that tells the look; the first is the one that is shown where nobody has chosen."""
