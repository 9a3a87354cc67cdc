"""Published segment parameters: masses, lengths, centres of mass and radii of gyration.

de Leva P (1996) Adjustments to Zatsiorsky-Seluyanov's segment inertia parameters. J Biomech
29(9):1223-1230, Table 4. Masses, centres and radii were checked against a public transcription;
lengths in millimetres are from memory, supported by the table's own alternative definitions, which
put each centre at the same place. Centre fractions count from the FIRST-NAMED end, which is the
cranial or proximal one (the vertex, C7, the xiphoid, the navel; the joint nearer the trunk).
"""

from collections.abc import Mapping
from dataclasses import dataclass

SOURCE = "de Leva P (1996) J Biomech 29(9):1223-1230, Table 4"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One segment: endpoints from the first-named end; radii are of gyration about the centre.

    `radius_ratios` are sagittal, transverse and longitudinal, as shares of the length.
    """

    endpoints: str
    mass_share: float
    length_mm: float
    centre_ratio: float
    radius_ratios: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """The rows of one sex, and the reference subject's stature."""

    stature_mm: float
    rows: Mapping[str, Row]
    shoulder_to_hip_mm: float
    """MIDS-MIDH: mid-shoulder to mid-hip."""
    knuckle_mm: float
    """WJC-MET3: wrist to the third knuckle, where a gripped band lies."""


def _row(
    endpoints: str, mass_share: float, length_mm: float, centre_ratio: float, *radii: float
) -> Row:  # positional as the table's columns are
    return Row(
        endpoints=endpoints,
        mass_share=mass_share,
        length_mm=length_mm,
        centre_ratio=centre_ratio,
        radius_ratios=(radii[0], radii[1], radii[2]),
    )


FEMALE = Table(
    stature_mm=1735.0,
    rows={
        "head": _row("VERT-CERV", 0.0668, 243.7, 0.4841, 0.271, 0.295, 0.261),
        "upper_trunk": _row("CERV-XYPH", 0.1545, 228.0, 0.505, 0.466, 0.314, 0.449),
        "middle_trunk": _row("XYPH-OMPH", 0.1465, 205.3, 0.4512, 0.433, 0.354, 0.415),
        "lower_trunk": _row("OMPH-MIDH", 0.1247, 181.5, 0.492, 0.433, 0.402, 0.444),
        "upper_arm": _row("SJC-EJC", 0.0255, 275.1, 0.5754, 0.278, 0.26, 0.148),
        "forearm": _row("EJC-WJC", 0.0138, 264.3, 0.4559, 0.261, 0.257, 0.094),
        "hand": _row("WJC-DAC3", 0.0056, 170.1, 0.3427, 0.244, 0.208, 0.154),
        "thigh": _row("HJC-KJC", 0.1478, 368.5, 0.3612, 0.369, 0.364, 0.162),
        "shank": _row("KJC-AJC", 0.0481, 438.6, 0.4352, 0.267, 0.263, 0.092),
        "foot": _row("HEEL-TTIP", 0.0129, 228.3, 0.4014, 0.299, 0.279, 0.139),
    },
    shoulder_to_hip_mm=497.9,
    knuckle_mm=78.0,
)
MALE = Table(
    stature_mm=1741.0,
    rows={
        "head": _row("VERT-CERV", 0.0694, 242.9, 0.5002, 0.303, 0.315, 0.261),
        "upper_trunk": _row("CERV-XYPH", 0.1596, 242.1, 0.5066, 0.505, 0.32, 0.465),
        "middle_trunk": _row("XYPH-OMPH", 0.1633, 215.5, 0.4502, 0.482, 0.383, 0.468),
        "lower_trunk": _row("OMPH-MIDH", 0.1117, 145.7, 0.6115, 0.615, 0.551, 0.587),
        "upper_arm": _row("SJC-EJC", 0.0271, 281.7, 0.5772, 0.285, 0.269, 0.158),
        "forearm": _row("EJC-WJC", 0.0162, 268.9, 0.4574, 0.276, 0.265, 0.121),
        "hand": _row("WJC-DAC3", 0.0061, 187.9, 0.3624, 0.288, 0.235, 0.184),
        "thigh": _row("HJC-KJC", 0.1416, 422.2, 0.4095, 0.329, 0.329, 0.149),
        "shank": _row("KJC-AJC", 0.0433, 440.3, 0.4395, 0.251, 0.246, 0.102),
        "foot": _row("HEEL-TTIP", 0.0137, 258.1, 0.4415, 0.257, 0.245, 0.124),
    },
    shoulder_to_hip_mm=515.5,
    knuckle_mm=86.2,
)

ANKLE_HEIGHT_RATIO = 0.039
"""Share of stature: Drillis & Contini 1966, as Winter's Figure 4.1 prints it (verified)."""
HALF_SHOULDER_RATIO = 0.107
"""Share of stature between the midline and a shoulder's centre, from memory: half the biacromial
breadth (0.129, Drillis & Contini) less about 3.5 cm from the acromion in to the joint."""
HALF_HIP_RATIO = 0.050
"""Share of stature between the midline and a hip's centre (from memory)."""
HEEL_BEHIND_ANKLE_RATIO = 0.25
"""Share of the foot's length that lies behind the ankle's centre (from memory)."""
